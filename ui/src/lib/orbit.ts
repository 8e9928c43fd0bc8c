// Where the eye stands: on a sphere round a point of the piece, or at a place in the room. Millimetres as on the wall:
// x right, y up, z out into the room (docs/signs-and-axes.md).
export interface Vec {
  x: number
  y: number
  z: number
}
export interface Room {
  min: Vec
  max: Vec
}
export interface Stand {
  eye: Vec
  target: Vec
  fov_deg: number
}
export type ViewName = "front" | "left" | "right" | "above" | "apart"

// A long lens keeps upright things upright and sizes comparable.
const LENS_DEG = 24
const TURN: Record<ViewName, [number, number]> = {
  front: [0, 0],
  left: [-78, 4],
  right: [78, 4],
  above: [0, 72],
  apart: [-42, 16],
}

export function middle(box: Room): Vec {
  return {
    x: (box.min.x + box.max.x) / 2,
    y: (box.min.y + box.max.y) / 2,
    z: (box.min.z + box.max.z) / 2,
  }
}

/** The stand of a named view, so far off that the whole box is seen. `aspect` is width over height. */
export function standOf(view: ViewName, box: Room, aspect: number): Stand {
  const [turn, rise] = TURN[view]
  return fitted(turn, rise, box, aspect)
}

/** Turned and risen by degrees round the middle of the box, and far enough away to see every corner. */
export function fitted(turn_deg: number, rise_deg: number, box: Room, aspect: number): Stand {
  const target = middle(box)
  const toEye = direction(turn_deg, rise_deg)
  const { right, up } = frame(toEye)
  const tanUp = Math.tan((LENS_DEG * Math.PI) / 360)
  const tanRight = tanUp * aspect
  let far = 1
  for (const corner of corners(box)) {
    const offset = minus(corner, target)
    const along = dot(offset, toEye)
    // A corner at this offset is on the frame's edge when its sideways part equals (far - along) * tan.
    far = Math.max(
      far,
      along + Math.abs(dot(offset, right)) / tanRight,
      along + Math.abs(dot(offset, up)) / tanUp,
    )
  }
  // Six parts in a hundred of air round it.
  return { eye: plus(target, times(toEye, far * 1.06)), target, fov_deg: LENS_DEG }
}

/** From somebody's eye to the piece, with a lens wide enough for all of it. */
export function fromEye(eye: Vec, box: Room, aspect: number): Stand {
  const target = middle(box)
  const back = normal(minus(eye, target))
  const { right, up } = frame(back)
  let tanUp = 0
  for (const corner of corners(box)) {
    const offset = minus(corner, eye)
    const deep = Math.max(1, -dot(offset, back))
    tanUp = Math.max(tanUp, Math.abs(dot(offset, up)) / deep, Math.abs(dot(offset, right)) / deep / aspect)
  }
  const fov = (2 * Math.atan(tanUp * 1.08) * 180) / Math.PI
  return { eye, target, fov_deg: Math.min(100, Math.max(12, fov)) }
}

/** The same stand turned about its target; the eye never goes behind the wall. */
export function turned(stand: Stand, by_deg: number, rise_by_deg: number): Stand {
  const offset = minus(stand.eye, stand.target)
  const far = length(offset)
  const turn = (Math.atan2(offset.x, offset.z) * 180) / Math.PI + by_deg
  const rise = (Math.asin(offset.y / far) * 180) / Math.PI + rise_by_deg
  return {
    ...stand,
    eye: plus(stand.target, times(direction(clamp(turn, -86, 86), clamp(rise, -80, 80)), far)),
  }
}

/** Nearer (below 1) or further (above 1), between a hand's breadth and the far side of a hall. */
export function moved(stand: Stand, by: number): Stand {
  const offset = minus(stand.eye, stand.target)
  const far = clamp(length(offset) * by, 120, 60_000)
  return { ...stand, eye: plus(stand.target, times(normal(offset), far)) }
}

/** Slid sideways and up, as fractions of what is seen. */
export function slid(stand: Stand, right_share: number, up_share: number): Stand {
  const offset = minus(stand.eye, stand.target)
  const { right, up } = frame(normal(offset))
  const seen = 2 * length(offset) * Math.tan((stand.fov_deg * Math.PI) / 360)
  const by = plus(times(right, right_share * seen), times(up, up_share * seen))
  return { ...stand, eye: plus(stand.eye, by), target: plus(stand.target, by) }
}

/** Part of the way from one stand to another; 0 is the first, 1 the second. */
export function between(from: Stand, to: Stand, share: number): Stand {
  const mix = (a: Vec, b: Vec) => plus(a, times(minus(b, a), share))
  return {
    eye: mix(from.eye, to.eye),
    target: mix(from.target, to.target),
    fov_deg: from.fov_deg + (to.fov_deg - from.fov_deg) * share,
  }
}

function corners(box: Room): Vec[] {
  return [box.min.x, box.max.x].flatMap((x) =>
    [box.min.y, box.max.y].flatMap((y) => [box.min.z, box.max.z].map((z) => ({ x, y, z }))),
  )
}
function direction(turn_deg: number, rise_deg: number): Vec {
  const turn = (turn_deg * Math.PI) / 180
  const rise = (rise_deg * Math.PI) / 180
  return { x: Math.sin(turn) * Math.cos(rise), y: Math.sin(rise), z: Math.cos(turn) * Math.cos(rise) }
}
function frame(toEye: Vec): { right: Vec; up: Vec } {
  const right = normal({ x: toEye.z, y: 0, z: -toEye.x })
  const up = {
    x: toEye.y * right.z - toEye.z * right.y,
    y: toEye.z * right.x - toEye.x * right.z,
    z: toEye.x * right.y - toEye.y * right.x,
  }
  return { right, up }
}
const plus = (a: Vec, b: Vec): Vec => ({ x: a.x + b.x, y: a.y + b.y, z: a.z + b.z })
const minus = (a: Vec, b: Vec): Vec => ({ x: a.x - b.x, y: a.y - b.y, z: a.z - b.z })
const times = (a: Vec, by: number): Vec => ({ x: a.x * by, y: a.y * by, z: a.z * by })
const dot = (a: Vec, b: Vec): number => a.x * b.x + a.y * b.y + a.z * b.z
const length = (a: Vec): number => Math.hypot(a.x, a.y, a.z)
const normal = (a: Vec): Vec => times(a, 1 / (length(a) || 1))
const clamp = (value: number, least: number, most: number): number => Math.min(most, Math.max(least, value))
