/**
 * Keeps the screen on while a page is in view that is read with hands full.
 * Where the browser cannot, it says so and nothing else happens.
 */
export function keepAwake(told: (on: boolean) => void): () => void {
  let lock: WakeLockSentinel | undefined
  let over = false
  async function ask() {
    if (over || lock || document.visibilityState !== 'visible' || !('wakeLock' in navigator)) return
    try {
      lock = await navigator.wakeLock.request('screen')
      if (over) { void lock.release(); return }
      told(true)
      lock.addEventListener('release', () => { lock = undefined; told(false) })
    } catch { told(false) } // low battery, or not allowed
  }
  const seen = () => void ask()
  document.addEventListener('visibilitychange', seen)
  void ask()
  return () => {
    over = true
    document.removeEventListener('visibilitychange', seen)
    void lock?.release()
  }
}
