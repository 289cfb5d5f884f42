// One way to talk to the server. Refusals arrive as problem details and leave as a Refusal.
import type { paths, FieldHeader, ProblemDetails } from './schema';

export class Refusal extends Error {
  constructor(
    readonly status: number,
    readonly details: ProblemDetails | null,
  ) {
    super(details?.detail ?? details?.title ?? `The server answered with status ${status}.`);
  }
}

async function refused(response: Response): Promise<Refusal> {
  const isDetails = response.headers.get('content-type')?.startsWith('application/problem+json') ?? false;
  return new Refusal(response.status, isDetails ? ((await response.json()) as ProblemDetails) : null);
}

async function ask(address: string, init: RequestInit): Promise<Response> {
  const response = await fetch(address, init);
  if (!response.ok) throw await refused(response);
  return response;
}

function posted(body: unknown, signal: AbortSignal): RequestInit {
  return {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
    signal,
  };
}

type Json<T> = T extends { content: { 'application/json': infer Body } } ? Body : never;
type Answer<Operation> = Operation extends { responses: { 200: infer Ok } } ? Json<Ok> : never;
type Asked<Operation> = Operation extends { requestBody: infer Body } ? Json<Body> : never;

type Gets = { [P in keyof paths]: paths[P] extends { get: infer O } ? O : never };
type Posts = { [P in keyof paths]: paths[P] extends { post: infer O } ? O : never };

export async function get<P extends keyof paths>(
  path: P,
  signal: AbortSignal,
  fill: { id?: string; words?: string } = {},
): Promise<Answer<Gets[P]>> {
  const address = fill.id === undefined ? path : path.replace('{id}', encodeURIComponent(fill.id));
  const query = fill.words === undefined ? '' : `?${new URLSearchParams({ words: fill.words }).toString()}`;
  return (await (await ask(address + query, { signal })).json()) as Answer<Gets[P]>;
}

export async function post<P extends keyof paths>(
  path: P,
  body: Asked<Posts[P]>,
  signal: AbortSignal,
): Promise<Answer<Posts[P]>> {
  return (await (await ask(path, posted(body, signal))).json()) as Answer<Posts[P]>;
}

export type Field = { header: FieldHeader; values: Float32Array };

export async function postField(body: Asked<Posts['/api/field']>, signal: AbortSignal): Promise<Field> {
  return decodeField(await (await ask('/api/field', posted(body, signal))).arrayBuffer());
}

// uint32 n, n bytes of JSON, then float32; all little-endian (src/server/field_grid.h).
export function decodeField(buffer: ArrayBuffer): Field {
  const length = new DataView(buffer).getUint32(0, true);
  const header = JSON.parse(new TextDecoder().decode(new Uint8Array(buffer, 4, length))) as FieldHeader;
  const view = new DataView(buffer, 4 + length);
  const values = Float32Array.from({ length: view.byteLength / 4 }, (_, i) => view.getFloat32(4 * i, true));
  return { header, values };
}
