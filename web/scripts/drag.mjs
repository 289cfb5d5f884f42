// How long a dragged lamp's field takes to the screen: `npm run drag [enclosure] [moves]`, against a running `dapple
// demo`, or a production build before one (`npm run build`, `npx vite preview`); DAPPLE_AT says where, CHROMIUM which
// browser. Prints medians over the moves that were drawn.
//
// A move is a pointer event on the lamp in the model. Its field is on the screen with the first animation frame after
// WebGL has finished the frame (a fence says when) in which it was given the slice that answers a question put after the
// move. First moves come one at a time, each when the last one is drawn, so a figure is one move's own way: event,
// question, server, answer, paint, frame. Then they come every 16 ms, as from a hand: how many fields a second are drawn,
// and how old, counted from its move, is the field that is on the screen.
import { chromium } from '@playwright/test';
import { argv, env } from 'node:process';

const at = env.DAPPLE_AT ?? 'http://127.0.0.1:8460';
const enclosure = argv[2] ?? 'heath-edge';
const moves = Number(argv[3] ?? 60);
const drag_s = 6;

// In the page: notes when the pointer moved, when a field was asked for and answered, and when it was drawn.
function watch() {
  const notes = { moved: 0, drawn: [], ages: null };
  window.dragNotes = notes;
  window.addEventListener('pointermove', () => (notes.moved = performance.now()), true);
  let answer = null; // the last one that came
  const ask = window.fetch.bind(window);
  window.fetch = async (input, init) => {
    const isField = String(input?.url ?? input).endsWith('/api/field');
    if (!isField) return ask(input, init);
    const mine = { moved: notes.moved, asked: performance.now() };
    const response = await ask(input, init);
    const whole = response.arrayBuffer.bind(response);
    response.arrayBuffer = async () => {
      const bytes = await whole();
      const timing = response.headers.get('server-timing') ?? '';
      mine.server = Number(/answer;dur=([\d.]+)/.exec(timing)?.[1] ?? NaN);
      mine.answered = performance.now();
      answer = mine;
      return bytes;
    };
    return response;
  };
  function finished(gl, fence, then) {
    if (gl.getSyncParameter(fence, gl.SYNC_STATUS) !== gl.SIGNALED) {
      setTimeout(() => finished(gl, fence, then), 1);
      return;
    }
    gl.deleteSync(fence);
    requestAnimationFrame(then);
  }
  for (const name of ['texImage2D', 'texSubImage2D']) {
    const give = WebGL2RenderingContext.prototype[name];
    WebGL2RenderingContext.prototype[name] = function (...args) {
      const mine = answer;
      answer = null;
      // The rest of the frame is drawn in the same task.
      if (mine) {
        queueMicrotask(() => {
          const fence = this.fenceSync(this.SYNC_GPU_COMMANDS_COMPLETE, 0);
          this.flush();
          mine.given = performance.now();
          finished(this, fence, () => notes.drawn.push({ ...mine, drawn: performance.now() }));
        });
      }
      return give.apply(this, args);
    };
  }
  const look = () => {
    const shown = notes.drawn.at(-1);
    if (notes.ages && shown) notes.ages.push(performance.now() - shown.moved);
    requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
}

const quantile = (values, share) =>
  [...values].sort((a, b) => a - b)[Math.floor(share * (values.length - 1))];

// As Chromium is by itself where there is no graphics card: WebGL drawn by SwiftShader, the page put together without it.
// Told to put the page together with SwiftShader too (--use-angle=swiftshader), any frame, even of a dot that changes its
// colour, costs another 45 ms of processor time.
const browser = await chromium.launch({
  executablePath: env.CHROMIUM ?? '/usr/bin/chromium',
  args: (env.CHROMIUM_ARGS ?? '--no-sandbox --enable-unsafe-swiftshader').split(' '),
});
const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
await page.addInitScript(watch);
await page.goto(`${at}/collection/${enclosure}`);
await page.waitForFunction(() => window.dragNotes.drawn.length > 0, null, { timeout: 60_000 });
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
const place = (i) => [x - 40 * Math.sin(i / 5) - 10, y];
await page.waitForTimeout(3000);

const taken = [];
for (let i = 0; i < moves; ++i) {
  const before = await page.evaluate(() => window.dragNotes.drawn.length);
  await page.mouse.move(...place(i));
  const note = await page
    .waitForFunction(
      (known) => window.dragNotes.drawn.slice(known).find(({ moved }) => moved === window.dragNotes.moved),
      before,
      { polling: 4, timeout: 5000 },
    )
    .then((handle) => handle.jsonValue())
    .catch(() => null);
  if (note) taken.push(note);
}

const before = await page.evaluate(() => {
  window.dragNotes.ages = [];
  return window.dragNotes.drawn.length;
});
const start = performance.now();
for (let i = 0; performance.now() - start < drag_s * 1000; ++i) {
  const due = start + 16 * i;
  if (due > performance.now()) await new Promise((go) => setTimeout(go, due - performance.now()));
  await page.mouse.move(...place(i / 3));
}
const lasted_s = (performance.now() - start) / 1000;
const { drawn, ages } = await page.evaluate((known) => {
  const { drawn, ages } = window.dragNotes;
  return { drawn: drawn.length - known, ages };
}, before);
await page.mouse.up();
await browser.close();

const ms = (values) => `${quantile(values, 0.5).toFixed(1)} ms (p90 ${quantile(values, 0.9).toFixed(1)})`;
const between = (from, to) => ms(taken.map((note) => note[to] - note[from]));
console.log(`${enclosure}: ${taken.length} of ${moves} moves drawn`);
if (taken.length > 0) {
  console.log(`  on the screen after  ${between('moved', 'drawn')}`);
  console.log(`  asked after          ${between('moved', 'asked')}`);
  console.log(`  answered after       ${between('asked', 'answered')}`);
  console.log(`  of it the server's   ${ms(taken.map(({ server }) => server))}`);
  console.log(`  given to WebGL after ${between('answered', 'given')}`);
  console.log(`  drawn after          ${between('given', 'drawn')}`);
}
console.log(`dragged for ${lasted_s.toFixed(1)} s: ${(drawn / lasted_s).toFixed(1)} fields a second`);
if (ages.length > 0) console.log(`  the field on the screen is ${ms(ages)} old`);
