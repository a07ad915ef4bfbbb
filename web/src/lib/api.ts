import type { components, paths } from '../api/schema'
import { go } from './router.svelte'

/** One thing wrong at one place of a text. */
export interface Fault { says: string; path: string; line?: number }

/** What the program says when it cannot do what it was asked. */
export class Problem extends Error {
  constructor(
    readonly status: number,
    readonly detail: string,
    readonly faults: Fault[] = [],
    readonly now?: Doc, // a conflict: the document as it stands
  ) {
    super(detail)
  }
  /** The network or the program is away; nothing is wrong with what was sent. */
  get away() { return this.status === 0 }
}

export type Schemas = components['schemas']
export type Doc = Schemas['Doc']

type Get = { [P in keyof paths]: paths[P] extends { get: infer G } ? (G extends object ? P : never) : never }[keyof paths]
type Reply<O> = O extends { responses: { 200: { content: { 'application/json': infer B } } } } ? B : unknown
type Body<O> = O extends { requestBody: { content: { 'application/json': infer B } } } ? B
  : O extends { requestBody?: { content: { 'application/json': infer B } } } ? B : undefined
type Method = 'get' | 'post' | 'patch' | 'put' | 'delete'
type Op<P extends keyof paths, M extends Method> = paths[P] extends { [K in M]: infer O } ? O : never
export type Params = Record<string, string | number | boolean | undefined>

/** Puts the parameters into an address; what has no place in it goes behind. */
export function address(path: string, params: Params = {}): string {
  const left = { ...params }
  const filled = path.replace(/\{(\w+)\}/g, (_, name: string) => {
    const v = left[name]
    delete left[name]
    return encodeURIComponent(String(v ?? ''))
  })
  const query = new URLSearchParams()
  for (const [k, v] of Object.entries(left)) if (v !== undefined) query.set(k, String(v))
  const q = query.toString()
  return q ? `${filled}?${q}` : filled
}

async function send(method: Method, url: string, body?: unknown, signal?: AbortSignal): Promise<unknown> {
  let reply: Response
  try {
    reply = await fetch(url, {
      method: method.toUpperCase(),
      headers: body === undefined ? {} : { 'Content-Type': 'application/json' },
      body: body === undefined ? undefined : JSON.stringify(body),
      signal,
      credentials: 'same-origin',
    })
  } catch (e) {
    if ((e as Error).name === 'AbortError') throw e
    throw new Problem(0, 'The workbench cannot be reached. What you typed is kept here and sent when it is back.')
  }
  if (reply.status === 204) return undefined
  const kind = reply.headers.get('Content-Type') ?? ''
  const value: unknown = kind.includes('json') ? await reply.json() : await reply.text()
  if (reply.ok) return value
  // A device that is not let in, or no longer, is shown where it says so.
  if (reply.status === 401 && method === 'get') go('/join', 'replace')
  const p = (typeof value === 'object' && value !== null ? value : { detail: String(value) }) as {
    detail?: string; now?: Doc; errors?: { message?: string; location?: string; value?: { line?: number } }[]
  }
  const faults = (p.errors ?? []).map((e) => ({ says: e.message ?? '', path: e.location ?? '', line: e.value?.line }))
  throw new Problem(reply.status, p.detail || `The workbench answered ${reply.status}.`, faults, p.now)
}

/** The API, typed by its own description. */
export const api = {
  get: <P extends Get>(path: P, params?: Params, signal?: AbortSignal) =>
    send('get', address(path, params), undefined, signal) as Promise<Reply<Op<P, 'get'>>>,
  post: <P extends keyof paths>(path: P, params: Params, body: Body<Op<P, 'post'>>) =>
    send('post', address(path, params), body) as Promise<Reply<Op<P, 'post'>>>,
  patch: <P extends keyof paths>(path: P, params: Params, body: Body<Op<P, 'patch'>>) =>
    send('patch', address(path, params), body) as Promise<Reply<Op<P, 'patch'>>>,
  put: <P extends keyof paths>(path: P, params: Params, body: Body<Op<P, 'put'>>) =>
    send('put', address(path, params), body) as Promise<Reply<Op<P, 'put'>>>,
  delete: <P extends keyof paths>(path: P, params: Params) =>
    send('delete', address(path, params)) as Promise<Reply<Op<P, 'delete'>>>,
}
