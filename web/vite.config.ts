import { svelte } from '@sveltejs/vite-plugin-svelte'
import { defineConfig } from 'vitest/config'
import { serviceWorker } from './serviceworker.ts'

// Everything is built into dist, which the Go program carries. Nothing is
// fetched from elsewhere: fonts are files of a pinned package.
export default defineConfig({
  plugins: [svelte(), serviceWorker()],
  build: {
    target: 'es2022',
    assetsInlineLimit: 0, // the content policy lets no data: scripts or fonts in
    chunkSizeWarningLimit: 800, // the chunk of the 3D view
    cssCodeSplit: false,
    rolldownOptions: {
      output: {
        // One chunk for what all pages share, one for each page: small pieces
        // pack badly and each costs a request.
        codeSplitting: {
          groups: [
            { name: 'space', test: /node_modules[\\/]three[\\/]/, priority: 3 },
            { name: 'frame', test: /(src[\\/](lib|api)[\\/]|node_modules[\\/](svelte|esm-env|clsx)[\\/])/, priority: 2 },
            { name: (id: string) => /src[\\/]stations[\\/]([\w-]+(?:[\\/]model)?)[\\/]/.exec(id)?.[1]?.replace(/[\\/]/, '-') ?? null, test: /src[\\/]stations[\\/]/, priority: 1 },
          ],
        },
      },
    },
  },
  server: { proxy: { '/api': 'http://127.0.0.1:8455' } },
  test: { environment: 'happy-dom', include: ['src/**/*.test.ts'] },
})
