// What the program says of a piece in space. Millimetres, x right, y to the
// back, z up.
import type { Schemas } from '../../../lib/api'

export type V3 = [number, number, number]
export interface Two { own: string; other: string }
export interface Sized extends Two { why?: string }
/** Where a land of a strip lies in the plane of its part. */
export interface Pose { x_mm: number; y_mm: number; rad: number }
export interface Lay { lead: number; pose: Pose; seams_mm: number[] }
export interface Spot { name?: string; matrix: number[]; apart_mm: V3; lay?: Lay }
export interface StripBend {
  name: string
  angle_deg: number
  radius: Two
  kerfs_mm: number[]
  width_mm: number
  depth_mm: number
  pitch_mm: number
  show_face: boolean
  neutral_mm: number
  each_rad: number
}
export interface Strip { length_mm: number; width_mm: number; thickness_mm: number; bends: StripBend[] }
export interface Mesh { points_mm: number[]; normals: number[]; triangles: number[] }
export interface Body {
  letter: string
  name: string
  role: string
  material: string
  solid: boolean
  count: number
  note?: string
  length: Sized
  width: Sized
  thickness: Sized
  grain?: number[]
  mesh?: Mesh
  strip?: Strip
  spots: Spot[]
}
export interface Fixture {
  kind: string
  name: string
  boxes?: { low_mm: V3; high_mm: V3 }[]
  rods?: { from_mm: V3; to_mm: V3; diameter_mm: number }[]
  apart_mm: V3
}
export interface Motion {
  kind: 'drawer' | 'door'
  name: string
  members: { body: number; spot: number }[]
  fixtures: number[]
  travel_mm: V3
  hinge_mm: V3
  most_rad: number
}
export interface Measure {
  kind: 'outside' | 'case' | 'opening'
  name: string
  from_mm: V3
  to_mm: V3
  away: V3[]
  row: number
  size: Two
  why?: string
  path?: string
}
export interface Scene {
  revision: string
  low_mm: V3
  high_mm: V3
  bodies: Body[]
  fixtures: Fixture[]
  motions: Motion[]
  measures: Measure[]
}

/** The API's type says less: it knows neither lengths of lists nor that none is null. */
export const sceneOf = (s: Schemas['SceneReply']): Scene => s as unknown as Scene
