// Accounts: a server of its own, its first account from the command line, an invitation, and what a viewer may not.
import { expect, test, type Page } from '@playwright/test';
import { execFileSync, spawn, type ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { env } from 'node:process';
import { expectAccessible, looks, withLook } from './accessible';
import { aBox } from './making';

const dapple = env.DAPPLE ?? '../build/release/dapple';
const address = '127.0.0.1:8513';
// APP_ACCOUNTS: an address that serves the application on that server, while it is being written.
const app = env.APP_ACCOUNTS ?? `http://${address}`;
const password = 'a few words in a row';
test.describe.configure({ mode: 'serial' });
test.use({ baseURL: app });

let folder = '';
let server: ChildProcess;

test.beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'dapple-people-'));
  execFileSync(
    dapple,
    ['account', '--data', folder, '--login', 'keeper', '--name', 'Keeper', '--site', 'Room'],
    { input: `${password}\n` },
  );
  server = spawn(dapple, ['serve', '--data', folder, '--accounts', '--listen', address], { stdio: 'ignore' });
  await expect(async () => {
    expect((await fetch(`http://${address}/api/me`)).ok).toBe(true);
  }).toPass({ timeout: 60_000 });
});

test.afterAll(() => {
  server.kill();
  rmSync(folder, { recursive: true, force: true });
});

async function signIn(page: Page, login = 'keeper', words = password) {
  await page.goto('/today');
  await page.getByLabel(/^Login name/).fill(login);
  await page.getByLabel(/^Password/).fill(words);
  await page.getByRole('button', { name: 'Sign in' }).click();
}

test('a wrong password is refused in words, the right one opens the screens, and out again', async ({
  page,
}) => {
  await signIn(page, 'keeper', 'some other words');
  await expect(page.getByRole('alert')).toContainText('No such login and password');
  await signIn(page);
  await expect(page.getByRole('heading', { name: 'Today', exact: true })).toBeVisible();
  await page.getByRole('button', { name: 'Keeper', exact: true }).click();
  await expect(page.getByText('manager at Room')).toBeVisible();
  await page.getByRole('button', { name: 'Sign out' }).click();
  await expect(page.getByRole('heading', { name: 'Sign in' })).toBeVisible();
  await page.goto('/collection');
  await expect(page.getByRole('heading', { name: 'Sign in' })).toBeVisible();
});

test('an invited viewer makes an account, sees the collection, and is offered nothing that writes', async ({
  page,
  browser,
}) => {
  await signIn(page);
  await expect(page.getByRole('heading', { name: 'Today', exact: true })).toBeVisible();
  const me = (await (await page.request.get('/api/me')).json()) as {
    csrf: string;
    sites: { site: { id: string } }[];
  };
  const made = await page.request.post('/api/enclosures', {
    data: { site: me.sites[0]?.site.id, document: aBox('shown', 'Shown to all') },
    headers: { 'x-dapple-csrf': me.csrf },
  });
  expect(made.status(), await made.text()).toBe(201);

  await page.goto('/settings#people');
  await page.getByRole('button', { name: 'Invite somebody' }).click();
  await page.getByRole('combobox', { name: /^As/ }).selectOption('viewer');
  await page.getByRole('button', { name: 'Make the link' }).click();
  const sheet = page.getByRole('dialog', { name: 'Invitation as viewer' });
  await expect(sheet.getByRole('img', { name: 'The link as a QR code' })).toBeVisible();
  const drawn = await sheet
    .getByRole('img', { name: 'The link as a QR code' })
    .evaluate((picture) => (picture as HTMLImageElement).naturalWidth);
  expect(drawn, 'the code is a picture the browser can draw').toBeGreaterThan(0);
  const link = await sheet.getByRole('textbox', { name: 'Link' }).inputValue();
  expect(link).toMatch(/\/invited#.{20,}/);
  await expectAccessible(page, 'a made invitation');

  const context = await browser.newContext({ baseURL: app });
  const viewer = await context.newPage();
  await viewer.goto(`/invited${new URL(link).hash}`);
  await expect(viewer.getByText(/You are invited to Room as viewer/)).toBeVisible();
  await expectAccessible(viewer, 'an invitation');
  await viewer.getByLabel(/^Your name/).fill('Vera');
  await viewer.getByLabel(/^Login name/).fill('vera');
  await viewer.getByLabel(/^Password/).fill('other words in a row');
  await viewer.getByRole('button', { name: 'Make the account' }).click();
  await expect(viewer.getByRole('heading', { name: 'Today', exact: true })).toBeVisible();

  await viewer.goto('/collection');
  await expect(viewer.getByRole('heading', { name: 'Shown to all' })).toBeVisible();
  await expect(viewer.getByRole('main').getByRole('button')).toHaveCount(0);
  await expect(viewer.getByRole('link', { name: 'New enclosure' })).toHaveCount(0);
  await viewer.goto('/today');
  await expect(viewer.getByRole('heading', { name: 'Survey Shown to all' })).toBeVisible({
    timeout: 120_000,
  });
  await expect(viewer.getByRole('link', { name: /^Survey it/ })).toHaveCount(0);
  for (const part of ['site', 'meters', 'people', 'in-and-out']) {
    await viewer.goto('about:blank');
    await viewer.goto(`/settings#${part}`);
    await expect(viewer.getByRole('main').getByRole('heading', { level: 2 }).first()).toBeVisible();
    await expect(viewer.getByRole('status')).toHaveCount(0);
    await expect(viewer.getByRole('main').getByRole('button')).toHaveCount(0);
  }

  // Used once, the link serves nobody else; the manager sees who came.
  const third = await (await browser.newContext({ baseURL: app })).newPage();
  await third.goto(`/invited${new URL(link).hash}`);
  await expect(third.getByRole('alert')).toContainText('no longer serves');
  await page.goto('about:blank');
  await page.goto('/settings#people');
  await expect(page.getByRole('list', { name: 'People' }).getByText('Vera')).toBeVisible();
  await page.getByRole('combobox', { name: 'Role of Vera' }).selectOption('keeper');
  await expect(page.getByText(/^Keeper: surveys/)).toBeVisible();
  await viewer.goto('/collection');
  await expect(viewer.getByRole('link', { name: 'New enclosure' })).toBeVisible();
  await context.close();
  await third.context().close();
});

test('an invitation is withdrawn before anybody came', async ({ page, browser }) => {
  await signIn(page);
  await expect(page.getByRole('heading', { name: 'Today', exact: true })).toBeVisible();
  await page.goto('/settings#people');
  await page.getByRole('button', { name: 'Invite somebody' }).click();
  await page.getByRole('button', { name: 'Make the link' }).click();
  const link = await page.getByRole('textbox', { name: 'Link' }).inputValue();
  await page.keyboard.press('Escape');
  await page
    .getByRole('list', { name: 'Open invitations' })
    .getByRole('button', { name: 'Withdraw' })
    .first()
    .click();
  await expect(page.getByText('No open invitation.')).toBeVisible();
  const context = await browser.newContext({ baseURL: app });
  const late = await context.newPage();
  await late.goto(`/invited${new URL(link).hash}`);
  await expect(late.getByRole('alert')).toContainText('no longer serves');
  await context.close();
});

test('a new password holds, the old one no longer', async ({ page }) => {
  const changed = 'quite other words in a row';
  await signIn(page);
  await expect(page.getByRole('heading', { name: 'Today', exact: true })).toBeVisible();
  await page.goto('/settings#you');
  const form = page.getByRole('form', { name: 'Own password' });
  await form.getByLabel(/^The one you have/).fill(password);
  await form.getByLabel(/^The new one/).fill(changed);
  await form.getByRole('button', { name: 'Change the password' }).click();
  await expect(form.getByText(/^Changed\./)).toBeVisible();
  await page.context().clearCookies();
  await signIn(page);
  await expect(page.getByRole('alert')).toContainText('No such login and password');
  await signIn(page, 'keeper', changed);
  await expect(page.getByRole('heading', { name: 'Today', exact: true })).toBeVisible();
});

for (const look of looks) {
  test(`signing in is accessible and fits, ${look.name}`, async ({ browser }) => {
    await withLook(browser, look, async (page) => {
      await page.goto(`${app}/today`);
      await expect(page.getByRole('heading', { name: 'Sign in' })).toBeVisible();
      await expectAccessible(page, 'signing in');
    });
  });
}
