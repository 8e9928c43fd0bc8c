// Walking over the blocks with arrow keys: to the nearest block on that side, by where faces lie and not by numbers,
// because a row may hold blocks of several widths and a leaf may end.
export type Way = "left" | "right" | "up" | "down"
export interface Faces {
  x_mm: number[]
  y_mm: number[]
  width_mm: number[]
  height_mm: number[]
}

/** The block to go to from block `from`; the same block where nothing lies on that side. */
export function step(faces: Faces, from: number, way: Way): number {
  const here = rect(faces, from)
  let best = from
  let least = Infinity
  for (let index = 0; index < faces.x_mm.length; index++) {
    if (index === from) continue
    const cost = reach(here, rect(faces, index), way)
    if (cost < least) {
      least = cost
      best = index
    }
  }
  return best
}

interface Rect {
  left: number
  right: number
  low: number
  high: number
}

function rect(faces: Faces, index: number): Rect {
  const left = faces.x_mm[index] ?? 0
  const low = faces.y_mm[index] ?? 0
  return { left, right: left + (faces.width_mm[index] ?? 0), low, high: low + (faces.height_mm[index] ?? 0) }
}

function reach(from: Rect, to: Rect, way: Way): number {
  const slack = 1e-6
  const sideways = way === "left" || way === "right"
  const ahead =
    way === "right"
      ? to.left - from.right
      : way === "left"
        ? from.left - to.right
        : way === "up"
          ? to.low - from.high
          : from.low - to.high
  if (ahead < -slack - 0.5) return Infinity
  const overlap = sideways
    ? Math.min(from.high, to.high) - Math.max(from.low, to.low)
    : Math.min(from.right, to.right) - Math.max(from.left, to.left)
  const off = sideways
    ? Math.abs((from.low + from.high - to.low - to.high) / 2)
    : Math.abs((from.left + from.right - to.left - to.right) / 2)
  // A block straight ahead beats any that lies aside, however near.
  return overlap > slack
    ? Math.max(0, ahead) + off * 0.01
    : Math.max(0, ahead) + Math.abs(overlap) * 4 + off + 1e4
}
