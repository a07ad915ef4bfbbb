import { createHash } from 'node:crypto'
import { readdirSync } from 'node:fs'
import { build, type Plugin } from 'vite'

/**
 * Builds the service worker beside the pages as /sw.js, and tells it which
 * files the pages are made of. Its name over them changes with any of them,
 * so that a new build puts a new one in.
 */
export function serviceWorker(): Plugin {
  let root = '', out = '', open = ''
  const shell: string[] = []
  const hash = createHash('sha256')
  return {
    name: 'service-worker',
    apply: 'build',
    configResolved(c) {
      root = c.root
      out = c.build.outDir
      open = c.publicDir
    },
    generateBundle: {
      order: 'post',
      handler(_, bundle) {
        for (const [name, file] of Object.entries(bundle).sort(([a], [b]) => (a < b ? -1 : 1))) {
          const text = file.type === 'chunk' ? file.code : file.source
          hash.update(name).update(text)
          // The 3D view is large and of no use at the saw.
          if (/\.(js|css|woff2)$/.test(name) && !(file.type === 'chunk' && /WebGLRenderer/.test(file.code))) shell.push(`/${name}`)
        }
        for (const name of open ? readdirSync(open) : []) if (/\.svg$/.test(name)) shell.push(`/${name}`)
      },
    },
    async closeBundle() {
      await build({
        configFile: false,
        root,
        publicDir: false,
        logLevel: 'error',
        define: { __SHELL__: JSON.stringify(['/', ...shell]), __BUILD__: JSON.stringify(hash.digest('hex').slice(0, 12)) },
        build: {
          outDir: out,
          emptyOutDir: false,
          target: 'es2022',
          rollupOptions: { input: 'src/sw/sw.ts', output: { format: 'iife', entryFileNames: 'sw.js' } },
        },
      })
    },
  }
}
