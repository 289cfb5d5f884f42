// How long a dragged lamp's field takes to the screen: `npm run drag [enclosure] [moves]`, against a running
// `dapple demo` (DAPPLE_AT says where, CHROMIUM which browser). Prints medians over the moves that were drawn.
//
// A move is a pointer event on the lamp in the model. Its field is on the screen with the first animation frame after
// WebGL was given the slice's texture that answers a question put after the move. Moves come one at a time, each when
// the last one is drawn, so a figure is one move's own way: event, question, server, answer, paint, frame.
import { chromium } from '@playwright/test';
import { argv, env } from 'node:process';

const at = env.DAPPLE_AT ?? 'http://127.0.0.1:8460';
const enclosure = argv[2] ?? 'heath-edge';
const moves = Number(argv[3] ?? 60);

// In the page: notes when the pointer moved, when a field was asked for and answered, and when it was drawn.
function watch() {
  const notes = { moved: 0, asked: 0, answered: 0, drawn: 0, server: 0 };
  window.dragNotes = notes;
  window.addEventListener('pointermove', () => (notes.moved = performance.now()), true);
  const ask = window.fetch.bind(window);
  window.fetch = async (input, init) => {
    const isField = String(input?.url ?? input).endsWith('/api/field');
    if (!isField) return ask(input, init);
    const asked = performance.now();
    const answer = await ask(input, init);
    const whole = answer.arrayBuffer.bind(answer);
    answer.arrayBuffer = async () => {
      const bytes = await whole();
      Object.assign(notes, { asked, answered: performance.now() });
      notes.server = Number(
        /answer;dur=([\d.]+)/.exec(answer.headers.get('server-timing') ?? '')?.[1] ?? NaN,
      );
      return bytes;
    };
    return answer;
  };
  for (const name of ['texImage2D', 'texSubImage2D']) {
    const draw = WebGL2RenderingContext.prototype[name];
    WebGL2RenderingContext.prototype[name] = function (...args) {
      requestAnimationFrame(() => (notes.drawn = performance.now()));
      return draw.apply(this, args);
    };
  }
}

const quantile = (values, share) =>
  [...values].sort((a, b) => a - b)[Math.floor(share * (values.length - 1))];

const browser = await chromium.launch({
  executablePath: env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--use-gl=angle', '--use-angle=swiftshader', '--enable-unsafe-swiftshader'],
});
const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
await page.addInitScript(watch);
await page.goto(`${at}/collection/${enclosure}`);
await page.waitForFunction(() => window.dragNotes.drawn > 0, null, { timeout: 60_000 });
await page.waitForTimeout(8000); // verdict, fixes and warmth have come

// Takes hold of the first lamp met from above, as a hand would.
async function takeHold() {
  const box = await page.locator('canvas').boundingBox();
  const undo = page.getByRole('button', { name: 'Undo' });
  for (let part = 0.06; part < 0.6; part += 0.02) {
    const from = [box.x + box.width * 0.5, box.y + box.height * part];
    await page.mouse.move(...from);
    await page.mouse.down();
    await page.mouse.move(from[0] - 6, from[1], { steps: 2 });
    await page.waitForTimeout(300);
    if (await undo.isEnabled()) return from;
    await page.mouse.up();
  }
  throw new Error('no lamp was met');
}

const [x, y] = await takeHold();
await page.waitForTimeout(3000);
const taken = [];
for (let i = 0; i < moves; ++i) {
  const before = await page.evaluate(() => window.dragNotes.drawn);
  await page.mouse.move(x - 40 * Math.sin(i / 5) - 10, y);
  const note = await page
    .waitForFunction(
      (last) => {
        const n = window.dragNotes;
        return n.drawn > last && n.asked >= n.moved && n.drawn > n.answered ? { ...n } : null;
      },
      before,
      { polling: 4, timeout: 5000 },
    )
    .then((handle) => handle.jsonValue())
    .catch(() => null);
  if (note) taken.push(note);
}
await page.mouse.up();
await browser.close();

const ms = (of) =>
  `${quantile(taken.map(of), 0.5).toFixed(1)} ms (p90 ${quantile(taken.map(of), 0.9).toFixed(1)})`;
console.log(`${enclosure}: ${taken.length} of ${moves} moves drawn`);
if (taken.length > 0) {
  console.log(`  on the screen after  ${ms((n) => n.drawn - n.moved)}`);
  console.log(`  asked after          ${ms((n) => n.asked - n.moved)}`);
  console.log(`  answered after       ${ms((n) => n.answered - n.asked)}`);
  console.log(`  of it the server's   ${ms((n) => n.server)}`);
  console.log(`  drawn after          ${ms((n) => n.drawn - n.answered)}`);
}
