import { api, Problem, type Doc } from '../../lib/api'

/** What became of a file that was brought in. */
export interface Brought {
  file: string
  says: string
  doc?: Doc
  /** It is a record: it is kept here until its piece is named. */
  record?: string
}

export const largest = 1 << 20

/** Why a file cannot be taken, before it is sent; nothing where it can. */
export function refuse(name: string, size: number, text: string): string | undefined {
  if (size > largest) return `${name} is larger than a megabyte; a piece, shop or record is not.`
  if (text.includes('\0')) return `${name} is not a text. Pieces, shops and records are YAML files.`
  if (!text.trim()) return `${name} is empty.`
  return undefined
}

/**
 * Files in the order in which they find each other: a shop before the pieces
 * made in it, a record after its piece.
 */
export function inOrder<T extends { text: string }>(files: T[]): T[] {
  const has = (text: string, field: string) => new RegExp(`^[ {\\t]{0,3}"?${field}"?\\s*:`, 'm').test(text)
  const rank = ({ text }: T) => (has(text, 'saws') ? 0 : has(text, 'case') || has(text, 'materials') ? 1 : 2)
  return files.map((f, i) => ({ f, i, r: rank(f) })).sort((a, b) => a.r - b.r || a.i - b.i).map(({ f }) => f)
}

/** The name of the piece that a file belongs to: NAME.yaml, NAME.shop.yaml, NAME.record.yaml. */
export const stem = (name: string) => name.replace(/\.(ya?ml|json)$/i, '').replace(/\.(shop|record)$/i, '')

/** Keeps files as the pieces, shops and records they are. */
export async function bringAll(files: Iterable<File>): Promise<Brought[]> {
  const all = await Promise.all([...files].map(async (file) => ({ file, text: file.size > largest ? '' : await file.text() })))
  const pieces = new Map<string, string>()
  const got: Brought[] = []
  for (const { file, text } of inOrder(all)) {
    const b = await bring(file, text, pieces.get(stem(file.name)))
    if (b.doc?.kind === 'piece') pieces.set(stem(file.name), b.doc.id)
    got.push(b)
  }
  return got
}

/** Keeps one file as the piece, shop or record it is. */
async function bring(file: File, text: string, piece?: string): Promise<Brought> {
  const no = refuse(file.name, file.size, text)
  if (no) return { file: file.name, says: no }
  return put(file.name, text, piece)
}

export async function put(name: string, text: string, piece?: string): Promise<Brought> {
  try {
    const doc = await api.post('/api/bring', {}, { text, name: name.replace(/\.(ya?ml|json)$/i, ''), piece })
    return { file: name, doc, says: said(name, doc) }
  } catch (e) {
    const p = e as Problem
    if (p.status === 400 && !piece) return { file: name, says: `${name} is a record of what was measured and cut. Of which piece?`, record: text }
    return { file: name, says: p.faults[0]?.says ?? p.detail }
  }
}

function said(name: string, d: Doc): string {
  const n = d.problems?.length ?? 0
  if (n) return `${name} is kept. ${n === 1 ? 'One line has' : `${n} lines have`} to be mended before it can be planned.`
  if (d.kind === 'shop') return `${name} is brought in as a shop.`
  if (d.kind === 'record') return `${name} is brought in as the record.`
  return `${name} is brought in as ${d.name}.`
}
