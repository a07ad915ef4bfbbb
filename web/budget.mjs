// Weighs the built pages: all code and styles of the workbench, packed as they
// are sent, but for the two chunks of the 3D view, which are fetched only there.
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'

const most = 150_000
const dist = new URL('./dist/', import.meta.url).pathname
let all = 0
const lines = []
for (const name of readdirSync(join(dist, 'assets'))) {
  if (!/\.(js|css)$/.test(name)) continue
  const text = readFileSync(join(dist, 'assets', name))
  const packed = gzipSync(text).length
  const three = /^(space|desk-model)-/.test(name)
  lines.push([packed, name + (three ? ' (3D, not counted)' : '')])
  if (!three) all += packed
}
lines.sort((a, b) => b[0] - a[0])
for (const [n, name] of lines.slice(0, 8)) console.log(String(n).padStart(8), name)
console.log(`pages: ${all} bytes packed, at most ${most}`)
if (all === 0 || all > most) process.exit(1)
