/** The numbers beside a text, and which lines have something wrong. */
export function numbered(text: string, bad: number[]): { n: number; bad: boolean }[] {
  return text.split('\n').map((_, i) => ({ n: i + 1, bad: bad.includes(i + 1) }))
}

/** Where a line begins and ends in a text; lines count from 1. */
export function lineAt(text: string, line: number): [number, number] {
  const lines = text.split('\n')
  const from = lines.slice(0, line - 1).reduce((n, l) => n + l.length + 1, 0)
  return [Math.min(from, text.length), Math.min(from + (lines[line - 1]?.length ?? 0), text.length)]
}
