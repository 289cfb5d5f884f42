// One way to talk to the server. Refusals arrive as problem details and leave as a Refusal; a server that cannot be
// reached leaves as the browser's TypeError.
import type { paths, FieldHeader, ProblemDetails } from './schema';

export class Refusal extends Error {
  constructor(
    readonly status: number,
    readonly details: ProblemDetails | null,
  ) {
    super(details?.detail ?? details?.title ?? `The server answered with status ${status}.`);
  }
}

// What may go with a question.
export type With = {
  id?: string; // fills {id} of the path
  query?: Readonly<Record<string, string | undefined>>;
  seen?: number; // the revision this write is about
  key?: string; // idempotency: the same write sent again is done once
  why?: string; // for the trail
  view?: string; // a later question of the same view ends this one
  type?: string; // of a body that is no JSON
  signal?: AbortSignal;
};

// The session's word, sent back with everything that writes; useMe keeps it fresh.
let csrf: string | null = null;
export function setCsrf(word: string | null) {
  csrf = word;
}

export const newKey = () => crypto.randomUUID();

function addressOf(path: string, { id, query = {} }: With): string {
  const filled = id === undefined ? path : path.replace('{id}', encodeURIComponent(id));
  const parts = Object.entries(query).flatMap(([name, value]) =>
    value === undefined ? [] : [`${encodeURIComponent(name)}=${encodeURIComponent(value)}`],
  );
  return parts.length > 0 ? `${filled}?${parts.join('&')}` : filled;
}

function headersOf(method: string, hasBody: boolean, extra: With): Record<string, string> {
  return {
    ...(hasBody ? { 'content-type': extra.type ?? 'application/json' } : {}),
    ...(method !== 'GET' && csrf !== null ? { 'x-dapple-csrf': csrf } : {}),
    ...(extra.seen !== undefined ? { 'if-match': `"${extra.seen}"` } : {}),
    ...(extra.key !== undefined ? { 'idempotency-key': extra.key } : {}),
    ...(extra.why !== undefined ? { 'dapple-why': encodeURIComponent(extra.why) } : {}),
    ...(extra.view !== undefined ? { 'dapple-view': extra.view } : {}),
  };
}

async function refused(response: Response): Promise<Refusal> {
  const isDetails = response.headers.get('content-type')?.startsWith('application/problem+json') ?? false;
  return new Refusal(response.status, isDetails ? ((await response.json()) as ProblemDetails) : null);
}

async function ask(method: string, path: string, body: unknown, extra: With): Promise<Response> {
  const text =
    body === undefined || typeof body === 'string' || body instanceof Blob ? body : JSON.stringify(body);
  const response = await fetch(addressOf(path, extra), {
    method,
    headers: headersOf(method, text !== undefined, extra),
    ...(text !== undefined ? { body: text } : {}),
    ...(extra.signal ? { signal: extra.signal } : {}),
  });
  if (!response.ok) throw await refused(response);
  return response;
}

type Json<T> = T extends { content: { 'application/json': infer Body } } ? Body : never;
type Answer<Operation> = Operation extends { responses: infer R }
  ? R extends { 200: infer Ok }
    ? Json<Ok>
    : R extends { 201: infer Made }
      ? Json<Made>
      : null
  : never;
type Asked<Operation> = Operation extends { requestBody: { content: infer C } }
  ? C extends { 'application/json': infer Body }
    ? Body
    : string | Blob
  : undefined;

type Method = 'get' | 'post' | 'put' | 'delete';
type Of<M extends Method, P extends keyof paths> = paths[P] extends Record<M, infer O> ? O : never;
type Having<M extends Method> = { [P in keyof paths]: Of<M, P> extends never ? never : P }[keyof paths];

async function jsonOf<T>(response: Response): Promise<T> {
  return (response.status === 204 ? null : await response.json()) as T;
}

export async function get<P extends Having<'get'>>(path: P, extra: With = {}): Promise<Answer<Of<'get', P>>> {
  return jsonOf(await ask('GET', path, undefined, extra));
}

// A paper: a PDF as it is.
export async function getFile(path: Having<'get'>, extra: With = {}): Promise<Blob> {
  return (await ask('GET', path, undefined, extra)).blob();
}

export async function post<P extends Having<'post'>>(
  path: P,
  body: Asked<Of<'post', P>>,
  extra: With = {},
): Promise<Answer<Of<'post', P>>> {
  return jsonOf(await ask('POST', path, body, extra));
}

export async function put<P extends Having<'put'>>(
  path: P,
  body: Asked<Of<'put', P>>,
  extra: With = {},
): Promise<Answer<Of<'put', P>>> {
  return jsonOf(await ask('PUT', path, body, extra));
}

export async function remove(path: Having<'delete'>, extra: With = {}): Promise<void> {
  await ask('DELETE', path, undefined, extra);
}

export type Field = { header: FieldHeader; values: Float32Array };

export async function postField(body: Asked<Of<'post', '/api/field'>>, extra: With = {}): Promise<Field> {
  return decodeField(await (await ask('POST', '/api/field', body, extra)).arrayBuffer());
}

// uint32 n, n bytes of JSON, then float32; all little-endian (src/server/field_grid.h).
export function decodeField(buffer: ArrayBuffer): Field {
  const length = new DataView(buffer).getUint32(0, true);
  const header = JSON.parse(new TextDecoder().decode(new Uint8Array(buffer, 4, length))) as FieldHeader;
  // As every machine that browsers run on is; copied, because the numbers need not begin at a multiple of four.
  return { header, values: new Float32Array(buffer.slice(4 + length)) };
}
