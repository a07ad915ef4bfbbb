import { defineConfig } from '@playwright/test'

// The journeys run against the real program in a browser of the machine; none
// is fetched.
export default defineConfig({
  testDir: 'journeys',
  outputDir: 'test-results',
  timeout: 120_000,
  retries: process.env.CI ? 2 : 0, // a crowded machine draws slowly in software
  expect: { timeout: 20_000 },
  workers: 2,
  fullyParallel: true,
  forbidOnly: !!process.env.CI,
  reporter: process.env.CI ? 'line' : 'list',
  use: {
    browserName: 'chromium',
    viewport: { width: 1440, height: 900 },
    trace: 'off',
    launchOptions: {
      executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
      args: [
        '--no-sandbox', '--use-angle=swiftshader', '--enable-unsafe-swiftshader', '--disable-background-networking',
        '--disable-component-update', '--disable-sync', '--no-first-run', '--disable-quic',
      ],
    },
  },
})
