// What lies behind the wall under a hand: a run dragged by an end or as a whole, a depth, and the hatch of a zone.
import type { Unit } from "../api/types"
import { grid, shift, snapped } from "./snap"

export type Point = readonly [x_mm: number, y_mm: number]
export interface Line {
  from: Point
  to: Point
}
export type Grip = "whole" | "from" | "to"
interface Wall {
  width_mm: number
  height_mm: number
}

/** A run moved by one end, or as a whole: on the grid, on the wall, and never of no length. */
export function dragged(line: Line, grip: Grip, by: { x: number; y: number }, wall: Wall, unit: Unit): Line {
  if (grip === "whole") {
    const [left, low] = [Math.min(line.from[0], line.to[0]), Math.min(line.from[1], line.to[1])]
    const reach = {
      x_mm: left,
      y_mm: low,
      width_mm: Math.abs(line.from[0] - line.to[0]),
      height_mm: Math.abs(line.from[1] - line.to[1]),
    }
    const { x, y } = shift(reach, wall, by, unit)
    return { from: [line.from[0] + x, line.from[1] + y], to: [line.to[0] + x, line.to[1] + y] }
  }
  const put = (start: number, move: number, most: number) =>
    move === 0 ? start : Math.min(most, Math.max(0, snapped(start + move, unit)))
  const end = line[grip]
  const moved: Point = [put(end[0], by.x, wall.width_mm), put(end[1], by.y, wall.height_mm)]
  const other = grip === "from" ? line.to : line.from
  if (moved[0] === other[0] && moved[1] === other[1]) return line
  return { ...line, [grip]: moved }
}

/** A depth in the wall, on the grid, between its face and `most_mm`. */
export function deeper(depth_mm: number, by_mm: number, most_mm: number, unit: Unit): number {
  return Math.min(most_mm, Math.max(0, snapped(depth_mm + by_mm, unit)))
}

/** How far a key moves what is held, in both directions; null for other keys. Shift takes larger steps. */
export function step(key: string, large: boolean, unit: Unit): { x: number; y: number } | null {
  const by = grid(unit) * (large ? 10 : 2)
  const ways: Record<string, { x: number; y: number }> = {
    ArrowLeft: { x: -by, y: 0 },
    ArrowRight: { x: by, y: 0 },
    ArrowUp: { x: 0, y: by },
    ArrowDown: { x: 0, y: -by },
  }
  return ways[key] ?? null
}

/** Lines across a convex outline, so far apart, rising to the right by 30°: the hatch of the papers. */
export function hatch(outline: readonly Point[], apart_mm: number): [Point, Point][] {
  const [along, across] = [
    [Math.cos(Math.PI / 6), Math.sin(Math.PI / 6)],
    [-Math.sin(Math.PI / 6), Math.cos(Math.PI / 6)],
  ] as const
  const far = ([x, y]: Point) => x * across[0] + y * across[1]
  const off = outline.map(far)
  const lines: [Point, Point][] = []
  // counted from the wall's own corner, so that zones beside each other share their lines
  for (let n = Math.ceil(Math.min(...off) / apart_mm); n * apart_mm < Math.max(...off); n++) {
    const met: Point[] = []
    outline.forEach((here, at) => {
      const there = outline[(at + 1) % outline.length] ?? here
      const [a, b] = [far(here) - n * apart_mm, far(there) - n * apart_mm]
      if (a >= 0 === b >= 0) return
      const share = a / (a - b)
      met.push([here[0] + share * (there[0] - here[0]), here[1] + share * (there[1] - here[1])])
    })
    const [one, other] = met
    if (one && other)
      lines.push(
        (other[0] - one[0]) * along[0] + (other[1] - one[1]) * along[1] > 0 ? [one, other] : [other, one],
      )
  }
  return lines
}
