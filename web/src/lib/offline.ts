/** Puts the service worker in, where the browser has one and the page is built. */
export function begin(): void {
  if (!('serviceWorker' in navigator) || import.meta.env.DEV) return
  navigator.serviceWorker.register('/sw.js').catch(() => {
    // Without it the pages still work while the network is there.
  })
}
