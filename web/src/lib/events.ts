/** What the program tells the pages. */
export interface Told {
  doc: string
  kind: 'document' | 'ticks' | 'plan' | 'reopened'
  version: number
  device?: string
}

type Ear = (t: Told) => void
const ears = new Set<Ear>()
let source: EventSource | undefined
let broken = false

function open() {
  if (source || typeof EventSource === 'undefined') return
  source = new EventSource('/api/events')
  source.onmessage = (e) => tell(JSON.parse(e.data as string) as Told)
  source.onerror = () => { broken = true }
  source.onopen = () => {
    // What was said meanwhile was missed: everything is read anew.
    if (broken) tell({ doc: '', kind: 'reopened', version: 0 })
    broken = false
  }
}

function tell(t: Told) { for (const ear of ears) ear(t) }

/** Listens until the returned function is called. */
export function listen(ear: Ear): () => void {
  open()
  ears.add(ear)
  return () => {
    ears.delete(ear)
    if (ears.size === 0) { source?.close(); source = undefined }
  }
}
