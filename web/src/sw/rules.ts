/**
 * What is kept for work without a network. Of the API only what a station
 * shows, and what the frame round it needs; never a reply to anything sent.
 */
const shown = [
  /^\/api\/pieces\/[^/]+\/(yard|saw|bench|glue-up|finish|delivery|ticks|line)$/,
  /^\/api\/docs\/[^/]+$/,
]

export function keeps(method: string, url: URL, home: string): boolean {
  return method === 'GET' && url.origin === home && url.search === '' && shown.some((r) => r.test(url.pathname))
}

/** What stands in the page's folder under a name of its content. */
export function isAsset(url: URL, home: string): boolean {
  return url.origin === home && url.pathname.startsWith('/assets/')
}

/** How many replies are kept; the oldest go. A saw of 60 settings has half a megabyte. */
export const most = 60
