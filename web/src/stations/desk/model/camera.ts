// A parallel view that can be turned, moved and brought nearer, and set to
// the views of a drawing.
import { MathUtils, OrthographicCamera, Spherical, Vector3 } from 'three'
import { OrbitControls } from 'three/addons/controls/OrbitControls.js'

export type View = 'aslant' | 'front' | 'side' | 'top' | 'behind'

const nearlyUp = 1e-3
/** Azimuth from the front towards the right, and height over the floor, in degrees. */
const views: Record<View, [number, number]> = { aslant: [30, 22], front: [0, 0], side: [90, 0], top: [0, 90], behind: [180, 0] }

/** The direction to the viewer. */
export function toViewer(azimuth: number, height: number): Vector3 {
  const a = MathUtils.degToRad(azimuth), h = Math.min(MathUtils.degToRad(height), Math.PI / 2 - nearlyUp)
  return new Vector3(Math.sin(a) * Math.cos(h), -Math.cos(a) * Math.cos(h), Math.sin(h))
}

/** Room kept free round the piece, pixels. */
export interface Room { top: number; right: number; bottom: number; left: number }

export class Sight {
  readonly camera = new OrthographicCamera(-1, 1, 1, -1, 0, 10_000)
  readonly controls: OrbitControls
  /** The view is still the one that shows all; a reader who zooms or moves takes it over. */
  whole = true
  private size = { w: 1, h: 1 }
  private moving = 0
  private radius = 1000

  constructor(canvas: HTMLElement, private readonly changed: () => void, private readonly still: () => boolean) {
    this.camera.up.set(0, 0, 1)
    this.camera.position.copy(toViewer(...views.aslant)).multiplyScalar(5000)
    this.controls = new OrbitControls(this.camera, canvas)
    this.controls.enableDamping = false
    this.controls.zoomToCursor = true
    this.controls.minZoom = 0.02
    this.controls.maxZoom = 40
    let zoom = 1
    const at = new Vector3()
    this.controls.addEventListener('start', () => {
      this.stop()
      zoom = this.camera.zoom
      at.copy(this.controls.target)
    })
    this.controls.addEventListener('change', () => {
      if (this.camera.zoom !== zoom && !this.moving && this.fitting === 0) this.whole = false
      if (at.distanceToSquared(this.controls.target) > 1 && !this.moving && this.fitting === 0) this.whole = false
      zoom = this.camera.zoom
      at.copy(this.controls.target)
      changed()
    })
  }

  private fitting = 0

  /** The direction to the viewer. */
  toward(): Vector3 {
    return this.camera.position.clone().sub(this.controls.target).normalize()
  }

  resize(w: number, h: number) {
    this.size = { w, h }
    Object.assign(this.camera, { left: -w / 2, right: w / 2, top: h / 2, bottom: -h / 2 })
    this.camera.updateProjectionMatrix()
  }

  /** Brings points into view, as large as they go. */
  fit(points: Vector3[], room: Room, toward = this.toward()) {
    if (points.length === 0) return
    const { target, zoom } = this.frame(points, room, toward)
    this.put(toward, target, zoom)
  }

  private frame(points: Vector3[], room: Room, toward: Vector3) {
    const right = new Vector3().crossVectors(this.camera.up, toward).normalize()
    if (right.lengthSq() < 0.5) right.set(1, 0, 0)
    const up = new Vector3().crossVectors(toward, right)
    let l = Infinity, r = -Infinity, b = Infinity, t = -Infinity, n = Infinity, f = -Infinity
    for (const p of points) {
      const x = p.dot(right), y = p.dot(up), z = p.dot(toward)
      l = Math.min(l, x); r = Math.max(r, x); b = Math.min(b, y); t = Math.max(t, y); n = Math.min(n, z); f = Math.max(f, z)
    }
    const w = Math.max(this.size.w - room.left - room.right, 40), h = Math.max(this.size.h - room.top - room.bottom, 40)
    const zoom = Math.min(w / Math.max(r - l, 1), h / Math.max(t - b, 1))
    this.radius = Math.max(Math.hypot(r - l, t - b, f - n), 100)
    const target = new Vector3()
      .addScaledVector(right, (l + r) / 2 + (room.right - room.left) / 2 / zoom)
      .addScaledVector(up, (b + t) / 2 + (room.top - room.bottom) / 2 / zoom)
      .addScaledVector(toward, (n + f) / 2)
    return { target, zoom }
  }

  private put(toward: Vector3, target: Vector3, zoom: number) {
    this.fitting++
    const far = this.radius * 3 + 1000
    this.camera.position.copy(target).addScaledVector(toward, far)
    this.camera.near = 0
    this.camera.far = far * 2
    this.camera.zoom = zoom
    this.camera.updateProjectionMatrix()
    this.controls.target.copy(target)
    this.controls.update()
    this.fitting--
    this.changed()
  }

  direction(view: View): Vector3 { return toViewer(...views[view]) }

  /** Gives what puts the camera back where it is now. */
  keep(): () => void {
    const toward = this.toward(), target = this.controls.target.clone(), zoom = this.camera.zoom
    return () => this.put(toward, target, zoom)
  }

  /** Turns to a direction and shows all. */
  look(to: Vector3, points: Vector3[], room: Room) {
    this.whole = true
    const goal = this.frame(points, room, to)
    const from = { toward: this.toward(), target: this.controls.target.clone(), zoom: this.camera.zoom }
    if (this.still()) { this.put(to, goal.target, goal.zoom); return }
    const turn = (v: Vector3) => { const s = new Spherical().setFromVector3(new Vector3(v.x, v.z, -v.y)); return s }
    const a = turn(from.toward), z = turn(to)
    let dt = z.theta - a.theta
    if (a.phi < 0.01) a.theta = z.theta, (dt = 0)
    dt = Math.atan2(Math.sin(dt), Math.cos(dt))
    this.animate(380, (k) => {
      const s = new Spherical(1, a.phi + (z.phi - a.phi) * k, a.theta + dt * k)
      const v = new Vector3().setFromSpherical(s)
      this.put(new Vector3(v.x, -v.z, v.y), from.target.clone().lerp(goal.target, k), from.zoom * (goal.zoom / from.zoom) ** k)
    })
  }

  /** Runs a movement of so many milliseconds; k goes from 0 to 1. */
  animate(ms: number, step: (k: number) => void) {
    this.stop()
    const began = performance.now()
    const go = (now: number) => {
      const t = Math.min((now - began) / ms, 1)
      step(t * t * (3 - 2 * t))
      this.moving = t < 1 ? requestAnimationFrame(go) : 0
    }
    this.moving = requestAnimationFrame(go)
  }

  stop() {
    cancelAnimationFrame(this.moving)
    this.moving = 0
  }

  /** Turns about the middle, radians; by the keyboard. */
  turn(right: number, up: number) {
    this.stop()
    const v = this.toward()
    const s = new Spherical().setFromVector3(new Vector3(v.x, v.z, -v.y))
    s.theta += right
    s.phi = MathUtils.clamp(s.phi - up, nearlyUp, Math.PI - nearlyUp)
    const w = new Vector3().setFromSpherical(s)
    this.put(new Vector3(w.x, -w.z, w.y), this.controls.target.clone(), this.camera.zoom)
  }

  nearer(by: number) {
    this.stop()
    this.whole = false
    this.put(this.toward(), this.controls.target.clone(), MathUtils.clamp(this.camera.zoom * by, 0.02, 40))
  }

  dispose() {
    this.stop()
    this.controls.dispose()
  }
}
