// What the specs of the survey and the lamps put into a record, each its own, and how they start and kill a program of
// their own.
import { spawn, type ChildProcess } from 'node:child_process';
import { env, kill } from 'node:process';
import { expect, type APIRequestContext } from '@playwright/test';

export type Made = { id: string; revision: number } & Record<string, unknown>;

let count = 0;
export const fresh = (word: string): string => `${word}-${Date.now().toString(36)}-${(count += 1)}`;

export async function make(request: APIRequestContext, plural: string, fields: object): Promise<Made> {
  const answer = await request.post(`/api/${plural}`, { data: fields });
  expect(answer.status(), await answer.text()).toBe(201);
  return (await answer.json()) as Made;
}

export async function things(
  request: APIRequestContext,
  plural: string,
  query: Record<string, string>,
): Promise<Made[]> {
  const answer = await request.get(`/api/${plural}`, { params: query });
  expect(answer.ok(), await answer.text()).toBe(true);
  return ((await answer.json()) as { things: Made[] }).things;
}

export async function one(request: APIRequestContext, plural: string, id: string): Promise<Made> {
  const answer = await request.get(`/api/${plural}/${id}`);
  expect(answer.ok(), await answer.text()).toBe(true);
  return (await answer.json()) as Made;
}

// The first site, made where the record is still empty.
export async function siteOf(request: APIRequestContext): Promise<string> {
  const me = (await (await request.get('/api/me')).json()) as { sites: { site: { id: string } }[] };
  return me.sites[0]?.site.id ?? (await make(request, 'sites', { name: 'A house of animals' })).id;
}

// A small enclosure with three spots; its animal's band is its own, so that states do not hang on a species sheet.
export async function makeEnclosure(
  request: APIRequestContext,
  site: string,
): Promise<{ id: string; name: string }> {
  const id = fresh('box');
  const name = `Box ${id}`;
  const document = {
    format: 'dapple/enclosure@1',
    id,
    name,
    size_cm: [100, 50, 50],
    animals: [{ species: 'crotaphytus_collaris', band: [2.9, 7.4], back_height_cm: 4 }],
    lamps: [
      {
        id: 'uv',
        name: 'The tube',
        kind: 'tube',
        length_cm: 55,
        diameter_cm: 1.6,
        centre_cm: [40, 25, 46],
        along: [1, 0, 0],
        aim: [0, 0, -1],
        spectrum: 'fluorescent_uvb_strong',
        output: { uvi: 6, at_cm: 30 },
        hours_on: 11,
      },
    ],
    spots: [
      { id: 'bask', name: 'Flat stone', position_cm: [40, 25, 10], role: 'bask' },
      { id: 'branch', name: 'Branch', position_cm: [55, 25, 15] },
      { id: 'cool', name: 'Cool end', position_cm: [95, 20, 0], role: 'retreat' },
    ],
  };
  await make(request, 'enclosures', { site, document });
  return { id, name };
}

export type Program = { stop: () => Promise<void>; killNow: () => Promise<void> };

// `dapple serve` on a folder. Killed with all it started, at once and without a warning.
export async function startProgram(folder: string, address: string): Promise<Program> {
  const dapple = env.DAPPLE ?? '../build/release/dapple';
  const child: ChildProcess = spawn(dapple, ['serve', '--data', folder, '--listen', address], {
    detached: true,
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  const end = async (signal: 'SIGKILL' | 'SIGTERM') => {
    if (child.exitCode === null && child.signalCode === null && child.pid !== undefined)
      kill(-child.pid, signal);
    await ended;
  };
  await expect(async () => {
    expect(child.exitCode, 'the program has ended').toBeNull();
    expect((await fetch(`http://${address}/api/me`)).ok).toBe(true);
  }).toPass({ timeout: 60_000 });
  return { stop: () => end('SIGTERM'), killNow: () => end('SIGKILL') };
}
