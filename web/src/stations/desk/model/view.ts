// The piece in space: bodies, hardware, cut faces; how they stand as the shell
// bends, the piece comes apart, its drawers and doors open. Drawn only when
// something has changed.
import {
  BufferGeometry, Float32BufferAttribute, Group, InstancedBufferGeometry, Matrix4, Mesh, Raycaster, Scene as Stage, ShapeUtils, Vector2,
  Vector3, WebGLRenderer, type Object3D,
} from 'three'
import { Sight, type Room, type View } from './camera'
import { edgeGeometry, fill, fillEdges, hatching, pen, shared, token, wood, type Pen, type Wood } from './paint'
import { across, slice, type Axis, type P2 } from './slice'
import { ofFixture, ofMesh, ofStrip, type Surface } from './surface'
import type { Body, Scene, Spot, V3 } from './types'

export type { Room, View }

/** How the piece is shown. */
export interface State {
  bend: number // 0 flat … 1 bent
  apart: number // 0 together … 1 apart
  open: number // 0 shut … 1 open
  section?: { axis: Axis; at: number }
  picked: string // letter
  drawn: boolean // grain
}

/** A body or a piece of hardware at its place. */
interface Thing {
  letter: string
  body?: Body
  spot?: Spot
  index: [number, number] // body and spot, or -1 and fixture
  group: Group
  mesh: Mesh<BufferGeometry, Wood>
  lines: Mesh<InstancedBufferGeometry, Pen>
  rest: Matrix4
  apart: V3
  mid: Vector3 // of its surface, in its own axes
  cuts: Object3D[]
}

export class ModelView {
  readonly sight: Sight
  private readonly renderer: WebGLRenderer
  private readonly stage = new Stage()
  private readonly shared = shared()
  private readonly observer: ResizeObserver
  private things: Thing[] = []
  private stale: Thing[] = [] // of the version before
  private scene?: Scene
  private state: State = { bend: 1, apart: 0, open: 0, picked: '', drawn: true }
  private asked = 0
  private lost = false

  constructor(
    private readonly host: HTMLElement,
    private readonly canvas: HTMLCanvasElement,
    private readonly told: { frame: () => void; over: (v: ModelView) => Room; lost: (lost: boolean) => void; picked: (letter: string) => void },
  ) {
    this.renderer = new WebGLRenderer({ canvas, antialias: true, powerPreference: 'low-power' })
    this.renderer.setPixelRatio(Math.min(devicePixelRatio || 1, 2))
    this.sight = new Sight(canvas, () => this.ask(), () => matchMedia('(prefers-reduced-motion: reduce)').matches)
    canvas.addEventListener('webglcontextlost', this.onlost)
    canvas.addEventListener('webglcontextrestored', this.onfound)
    canvas.addEventListener('pointerdown', this.ondown)
    host.addEventListener('wheel', this.onwheel, { capture: true, passive: true })
    canvas.addEventListener('pointerup', this.onup)
    this.observer = new ResizeObserver(() => this.resize())
    this.observer.observe(host)
    this.resize()
    this.restyle()
  }

  /** Reads the page's colours again: the light has changed. */
  restyle() {
    const s = this.shared
    s.ink.value.copy(token(this.host, '--ink'))
    s.paper.value.copy(token(this.host, '--paper'))
    s.hatch.value.copy(token(this.host, '--pencil'))
    s.accent.value.copy(token(this.host, '--accent'))
    this.renderer.setClearColor(s.paper.value.clone().convertSRGBToLinear(), 1)
    const tint = token(this.host, '--wood'), line = token(this.host, '--wood-line'), paper = s.paper.value, pencil = token(this.host, '--pencil')
    const materials = [...new Set(this.things.flatMap((t) => t.body?.material ?? []))]
    for (const t of this.things) {
      const m = t.mesh.material.uniforms
      if (!t.body) {
        m.tint.value.copy(paper).lerp(pencil, 0.38)
      } else {
        // Each material a little lighter or darker than the one before.
        const step = [0, 0.34, -0.24, 0.55, -0.12, 0.2][materials.indexOf(t.body.material) % 6] ?? 0
        m.tint.value.copy(tint).lerp(step > 0 ? paper : line, Math.abs(step))
        m.line.value.copy(line).lerp(s.ink.value, 0.16)
      }
      t.lines.material.uniforms.colour.value.copy(this.outline()).lerp(pencil, t.body ? 0 : 0.35)
    }
    this.cut()
    this.mark()
    this.ask()
  }

  /** The colour of outlines: ink, a little softer where it is light on dark. */
  private outline() {
    const { ink, paper } = this.shared
    return ink.value.clone().lerp(paper.value, ink.value.g > paper.value.g ? 0.22 : 0)
  }

  /** Shows a piece, or a new version of it; the view stays where it is. */
  show(scene: Scene) {
    const first = !this.scene
    this.stale.push(...this.things)
    this.things = []
    this.scene = scene
    scene.bodies.forEach((b, i) => {
      const surface = b.mesh && ofMesh(b, b.mesh)
      const shape = surface && this.shape(surface)
      b.spots.forEach((s, j) => {
        const own = shape ?? this.shape(ofStrip(b, b.strip!, s.lay, upOf(s), this.state.bend))
        const m = s.matrix
        const rest = new Matrix4().set(m[0]!, m[3]!, m[6]!, m[9]!, m[1]!, m[4]!, m[7]!, m[10]!, m[2]!, m[5]!, m[8]!, m[11]!, 0, 0, 0, 1)
        this.put(own, { letter: b.letter, body: b, spot: s, index: [i, j], rest, apart: s.apart_mm })
      })
    })
    scene.fixtures.forEach((f, i) => {
      this.put(this.shape(ofFixture(f)), { letter: '', index: [-1, i], rest: new Matrix4(), apart: f.apart_mm })
    })
    this.restyle()
    this.stand()
    if (first || this.sight.whole) this.fit()
  }

  private shape(s: Surface): { solid: BufferGeometry; edges: InstancedBufferGeometry } {
    const solid = new BufferGeometry()
    fill(solid, s.points, s.normals, s.grain, s.triangles)
    return { solid, edges: edgeGeometry(s.edges) }
  }

  private put(shape: { solid: BufferGeometry; edges: InstancedBufferGeometry }, of: Omit<Thing, 'group' | 'mesh' | 'lines' | 'mid' | 'cuts'>) {
    const seed = this.things.length * 3.7
    const mesh = new Mesh(shape.solid, wood(this.shared, seed))
    const lines = new Mesh(shape.edges, pen(this.shared, of.body ? 1.5 : 1.1))
    lines.frustumCulled = false
    lines.raycast = () => {}
    const group = new Group()
    group.matrixAutoUpdate = false
    group.add(mesh, lines)
    this.stage.add(group)
    const mid = new Vector3()
    shape.solid.boundingBox?.getCenter(mid)
    this.things.push({ ...of, group, mesh, lines, mid, cuts: [] })
  }

  set(state: State) {
    const was = this.state
    this.state = state
    if (was.bend !== state.bend) this.bend()
    if (was.bend !== state.bend || was.apart !== state.apart || was.open !== state.open) {
      this.stand()
      if (this.sight.whole) this.fit()
    } else if (was.section?.axis !== state.section?.axis || was.section?.at !== state.section?.at) {
      this.cut()
    }
    this.mark()
    this.ask()
  }

  /** Bends the strips anew. */
  private bend() {
    for (const t of this.things) {
      if (!t.body?.strip || !t.spot) continue
      const s = ofStrip(t.body, t.body.strip, t.spot.lay, upOf(t.spot), this.state.bend)
      fill(t.mesh.geometry, s.points, s.normals, s.grain, s.triangles)
      fillEdges(t.lines.geometry, s.edges)
      t.mesh.geometry.boundingBox?.getCenter(t.mid)
    }
  }

  /** Puts everything where it stands: opened, pulled apart; what waits is faint. */
  private stand() {
    const { apart, open, bend } = this.state
    const move = new Map<string, Matrix4>()
    for (const m of this.scene?.motions ?? []) {
      const by = new Matrix4()
      if (m.kind === 'drawer') by.makeTranslation(m.travel_mm[0] * open, m.travel_mm[1] * open, m.travel_mm[2] * open)
      else {
        const [x, y, z] = m.hinge_mm
        by.makeTranslation(x, y, z).multiply(new Matrix4().makeRotationZ(m.most_rad * open)).multiply(new Matrix4().makeTranslation(-x, -y, -z))
      }
      for (const k of m.members) move.set(`${k.body} ${k.spot}`, by)
      for (const k of m.fixtures) move.set(`-1 ${k}`, by)
    }
    const strips = this.things.some((t) => t.body?.strip)
    // While the shell lies flat all else waits, faint.
    const waits = strips ? Math.min(1, Math.max(1 - (1 - bend) * 8, Math.min(0.055, (bend - 0.05) * 0.2))) : 1
    for (const t of this.things) {
      t.group.matrix.makeTranslation(t.apart[0] * apart, t.apart[1] * apart, t.apart[2] * apart)
      const by = move.get(t.index.join(' '))
      if (by) t.group.matrix.multiply(by)
      t.group.matrix.multiply(t.rest)
      t.group.matrixWorldNeedsUpdate = true
      this.fade(t, t.body?.strip ? 1 : waits)
    }
    this.stage.updateMatrixWorld(true)
    this.cut()
  }

  private fade(t: Thing, shown: number) {
    const m = t.mesh.material, l = t.lines.material
    m.uniforms.shown.value = shown < 1 ? shown * 0.6 : 1
    l.uniforms.shown.value = shown < 1 ? Math.max(shown * 0.8, Math.min(0.12, shown * 2.2)) : 1
    t.group.visible = shown > 0
    m.transparent = shown < 1
    m.depthWrite = l.depthWrite = shown >= 1
    t.group.renderOrder = shown < 1 ? 1 : 0
  }

  /** Colours what is picked. */
  private mark() {
    for (const t of this.things) {
      const on = t.letter !== '' && t.letter === this.state.picked
      t.mesh.material.uniforms.picked.value = on ? 1 : 0
      t.mesh.material.uniforms.drawn.value = this.state.drawn ? 1 : 0
      const l = t.lines.material.uniforms
      l.wide.value = on ? 2.6 : t.body ? 1.5 : 1.1
      if (t.body) l.colour.value.copy(on ? this.shared.accent.value : this.outline())
      for (const c of t.cuts) {
        const m = (c as Mesh<BufferGeometry, Wood | Pen>).material.uniforms as { picked?: { value: number } }
        if (m.picked) m.picked.value = on ? 1 : 0
      }
    }
  }

  /** Cuts what the section plane goes through and fills the cut faces. */
  private cut() {
    for (const t of this.things) {
      for (const c of t.cuts) { this.stage.remove(c); free(c) }
      t.cuts = []
    }
    const s = this.state.section
    const clip = this.shared.clip.value
    if (!s) { clip.set(0, 0, 0, 1); return }
    // A hair aside, so that the plane lies in no face. What is in front, at
    // the right, or above goes.
    const at = s.at + 0.0137
    const sign = s.axis === 1 ? -1 : 1
    const n: V3 = [0, 0, 0]
    n[s.axis] = sign
    clip.set(n[0], n[1], n[2], sign * at)
    const [u, v] = across[s.axis]
    const space = (p: P2): V3 => { const q: V3 = [0, 0, 0]; q[s.axis] = at; q[u] = p[0]; q[v] = p[1]; return q }
    this.things.forEach((t, i) => {
      if (t.mesh.material.uniforms.shown.value < 1) return
      const points = worldPoints(t)
      const cuts = slice(points, t.mesh.geometry.index!.array, s.axis, at)
      if (cuts.length === 0) return
      const pos: number[] = [], uv: number[] = [], index: number[] = [], edges: number[] = []
      for (const c of cuts) {
        const runs = [c.outer, ...c.holes]
        const to2 = runs.map((r) => r.map((p) => new Vector2(p[0], p[1])))
        const first = pos.length / 3
        for (const p of runs.flat()) { pos.push(...space(p)); uv.push(p[0], p[1]) }
        for (const [a, b, d] of ShapeUtils.triangulateShape(to2[0]!, to2.slice(1))) index.push(first + a!, first + b!, first + d!)
        for (const r of runs) r.forEach((p, k) => edges.push(...space(p), ...space(r[(k + 1) % r.length]!), 0, 0, 0, 0, 0, 0, 1))
      }
      const g = new BufferGeometry()
      g.setAttribute('position', new Float32BufferAttribute(pos, 3))
      g.setAttribute('uv', new Float32BufferAttribute(uv, 2))
      g.setIndex(index)
      const hatch = hatching(this.shared, (i % 2 ? 0.75 : 0.25) * Math.PI, t.mesh.material.uniforms.tint.value)
      const line = pen({ ...this.shared, clip: { value: this.shared.clip.value.clone().set(0, 0, 0, 1) } }, 2.4)
      line.uniforms.colour.value.copy(this.outline())
      line.uniforms.near.value = 0.0012
      const face = new Mesh(g, hatch), rim = new Mesh(edgeGeometry(new Float32Array(edges)), line)
      rim.frustumCulled = false
      for (const m of [face, rim]) { m.raycast = () => {}; this.stage.add(m) }
      t.cuts = [face, rim]
    })
  }

  /** Brings everything into view, with what is written round it. */
  fit() { this.sight.fit(this.corners(), this.roomFor(this.sight.toward())) }

  look(view: View) {
    const to = this.sight.direction(view)
    const was = this.sight.keep()
    const room = this.roomFor(to)
    was()
    this.sight.look(to, this.corners(), room)
  }

  /** The margin that figures need in a view; it is found by trying. */
  private roomFor(toward: Vector3): Room {
    const room = { top: 28, right: 28, bottom: 28, left: 28 }
    const points = this.corners()
    for (let i = 0; i < 4; i++) {
      this.sight.fit(points, room, toward)
      this.sight.camera.updateMatrixWorld()
      const over = this.told.over(this)
      if (!(['top', 'right', 'bottom', 'left'] as const).some((k) => over[k] > 1)) break
      for (const k of ['top', 'right', 'bottom', 'left'] as const) room[k] += Math.max(over[k], 0)
    }
    return room
  }

  private corners(): Vector3[] {
    const out: Vector3[] = []
    for (const t of this.things) {
      const b = t.mesh.geometry.boundingBox
      if (!b || t.mesh.material.uniforms.shown.value < 0.3) continue
      for (let i = 0; i < 8; i++) {
        out.push(new Vector3(i & 1 ? b.max.x : b.min.x, i & 2 ? b.max.y : b.min.y, i & 4 ? b.max.z : b.min.z).applyMatrix4(t.group.matrix))
      }
    }
    return out
  }

  /** Where a place of the piece shows, in pixels from the upper left corner. */
  at(p: V3): [number, number] {
    const v = new Vector3(...p).project(this.sight.camera)
    return [((v.x + 1) / 2) * this.host.clientWidth, ((1 - v.y) / 2) * this.host.clientHeight]
  }

  /** The direction to the viewer, and to the right of the view. */
  toward(): V3 { return this.sight.toward().toArray() as V3 }

  /** The middle of a picked part, at the place of it that is nearest to the viewer. */
  middleOf(letter: string): V3 | undefined {
    const toward = this.sight.toward()
    let best: Vector3 | undefined
    for (const t of this.things) {
      if (t.letter !== letter) continue
      const p = t.body?.strip ? stripMiddle(t) : t.mid.clone().applyMatrix4(t.group.matrix)
      if (!best || p.dot(toward) > best.dot(toward)) best = p
    }
    return best?.toArray() as V3 | undefined
  }

  get count() { return this.things.filter((t) => t.body).length }

  private down?: { x: number; y: number }
  /** The wheel goes on scrolling the page until the view has been clicked. */
  private onwheel = (e: WheelEvent) => { this.sight.controls.enableZoom = e.ctrlKey || document.activeElement === this.canvas }
  private ondown = (e: PointerEvent) => {
    this.sight.controls.enableZoom = true
    this.down = e.isPrimary && e.button === 0 ? { x: e.clientX, y: e.clientY } : undefined
  }
  private onup = (e: PointerEvent) => {
    const d = this.down
    this.down = undefined
    if (!d || Math.hypot(e.clientX - d.x, e.clientY - d.y) > 5) return
    const r = this.canvas.getBoundingClientRect()
    const ray = new Raycaster()
    ray.setFromCamera(new Vector2(((e.clientX - r.left) / r.width) * 2 - 1, 1 - ((e.clientY - r.top) / r.height) * 2), this.sight.camera)
    const c = this.shared.clip.value
    const solid = this.things.filter((t) => t.mesh.material.uniforms.shown.value === 1)
    for (const hit of ray.intersectObjects(solid.map((t) => t.mesh), false)) {
      const p = hit.point
      if (c.x * p.x + c.y * p.y + c.z * p.z > c.w + 0.01) continue
      this.told.picked(solid.find((t) => t.mesh === hit.object)?.letter ?? '')
      return
    }
    this.told.picked('')
  }

  private resize() {
    const w = this.host.clientWidth, h = this.host.clientHeight
    if (!w || !h) return
    this.renderer.setSize(w, h, false)
    this.shared.size.value.set(w, h)
    this.sight.resize(w, h)
    if (this.scene && this.sight.whole) this.fit()
    this.ask()
  }

  private onlost = (e: Event) => { e.preventDefault(); this.lost = true; this.told.lost(true) }
  private onfound = () => { this.lost = false; this.told.lost(false); this.restyle() }

  /** Draws before the screen is next refreshed. */
  ask() {
    if (!this.asked) this.asked = requestAnimationFrame(() => this.draw())
  }

  private draw() {
    this.asked = 0
    if (this.lost) return
    this.shared.scale.value = this.sight.camera.zoom
    this.shared.toward.value.copy(this.sight.toward())
    this.sight.camera.updateMatrixWorld()
    this.sweep(false)
    this.renderer.render(this.stage, this.sight.camera)
    this.sweep(true)
    this.told.frame()
  }

  /** Takes what stood before out of the stage, and frees it once the new has been drawn with the same shaders. */
  private sweep(done: boolean) {
    for (const t of this.stale) {
      for (const o of [t.group, ...t.cuts]) this.stage.remove(o)
      if (done) for (const o of [t.mesh, t.lines, ...t.cuts]) free(o)
    }
    if (done) this.stale = []
  }

  dispose() {
    cancelAnimationFrame(this.asked)
    this.asked = -1
    this.observer.disconnect()
    this.canvas.removeEventListener('webglcontextlost', this.onlost)
    this.canvas.removeEventListener('webglcontextrestored', this.onfound)
    this.canvas.removeEventListener('pointerdown', this.ondown)
    this.host.removeEventListener('wheel', this.onwheel, { capture: true })
    this.canvas.removeEventListener('pointerup', this.onup)
    this.sight.dispose()
    this.stale.push(...this.things)
    this.things = []
    this.sweep(true)
    this.renderer.dispose()
    this.renderer.forceContextLoss() // a page may have only so many
  }
}

/** Upward in the plane of a place. */
function upOf(s: Spot): [number, number] { return [s.matrix[2]!, s.matrix[5]!] }

function worldPoints(t: Thing): Float32Array {
  const from = t.mesh.geometry.getAttribute('position')
  const out = new Float32Array(from.count * 3)
  const v = new Vector3()
  for (let i = 0; i < from.count; i++) v.fromBufferAttribute(from, i).applyMatrix4(t.group.matrix).toArray(out, 3 * i)
  return out
}

/** A point on the middle of a strip's run, so that a balloon points at wood. */
function stripMiddle(t: Thing): Vector3 {
  const p = t.mesh.geometry.getAttribute('position')
  const i = Math.floor(p.count / 8) * 2
  const v = new Vector3().fromBufferAttribute(p, i)
  v.z = (t.body?.strip?.width_mm ?? 0) / 2
  return v.applyMatrix4(t.group.matrix)
}

function free(o: Object3D) {
  const m = o as Mesh<BufferGeometry, Wood>
  m.geometry.dispose()
  m.material.dispose()
}

