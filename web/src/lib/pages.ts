import type { Component } from 'svelte'
import type { Beside, Station } from './router.svelte'

// Each page is a chunk of its own, fetched when it is first walked to.
const files = import.meta.glob<{ default: Component<any> }>('../stations/*/*.svelte')

const names = {
  desk: 'Desk', yard: 'Yard', saw: 'Saw', bench: 'Bench', 'glue-up': 'GlueUp', finish: 'Finish', delivery: 'Delivery',
  bend: 'Bend', papers: 'Papers', record: 'Record', changes: 'Changes', history: 'History',
  home: 'Home', shop: 'Shop', devices: 'Devices', join: 'Join',
} as const satisfies Record<Station | Beside | 'home' | 'shop' | 'devices' | 'join', string>

export type Page = keyof typeof names

/** Fetches the page of a place. */
export async function page(at: Page): Promise<Component<any>> {
  const load = files[`../stations/${at}/${names[at]}.svelte`]
  if (!load) throw new Error(`There is no page for ${at}.`)
  return (await load()).default
}
