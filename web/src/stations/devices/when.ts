/** How long ago something was, in words; the clocks may differ by a little. */
export function ago(then: string, now: number): string {
  const s = Math.max(0, (now - Date.parse(then)) / 1000)
  if (!Number.isFinite(s)) return ''
  if (s < 90) return 'a moment ago'
  const n = (v: number, what: string) => `${v} ${what}${v === 1 ? '' : 's'} ago`
  if (s < 90 * 60) return n(Math.round(s / 60), 'minute')
  if (s < 36 * 3600) return n(Math.round(s / 3600), 'hour')
  return n(Math.round(s / 86400), 'day')
}

/** Seconds that are left, as minutes and seconds. */
export function left(seconds: number): string {
  const s = Math.max(0, Math.ceil(seconds))
  return `${Math.floor(s / 60)} min ${String(s % 60).padStart(2, '0')} s`
}

/** The first line of the page of devices. */
export function answer(lan: boolean, devices: { here: boolean; revoked: boolean }[]): string {
  if (!lan) return 'Only this machine can reach the workbench.'
  const inside = devices.filter((d) => !d.revoked)
  const here = inside.filter((d) => d.here).length
  if (inside.length === 0) return 'No other device is let in yet.'
  const many = inside.length === 1 ? '1 device is let in' : `${inside.length} devices are let in`
  if (here === 0) return `${many}; none has a page open now.`
  return `${many}; ${here} ${here === 1 ? 'has' : 'have'} a page open now.`
}

/** What a device may be called, from what it can do. */
export function guess(touch: boolean, narrow: boolean): string {
  if (!touch) return 'Second computer'
  return narrow ? 'Phone' : 'Tablet'
}

/** The code in the address of a picture that was taken, if it is one. */
export function codeIn(hash: string): string {
  const digits = /^#(\d{4})(\d{4})$/.exec(hash)
  return digits ? `${digits[1]} ${digits[2]}` : ''
}
