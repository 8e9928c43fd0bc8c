// From a window or lamp on the room's plan to the direction of its light: geometry only.
import type { Vec } from "./orbit"

export interface Light {
  kind: "window" | "lamp"
  /** along the wall from its left corner; may lie outside the wall */
  x_mm: number
  /** out into the room from the wall */
  out_mm: number
  height_mm: number
}
export type Side = "left" | "right" | "top" | "bottom"

/** Where a light stands if the maker only said from which side it comes. */
export function lightFromSide(side: Side, wall: { width_mm: number; height_mm: number }): Light {
  const { width_mm, height_mm } = wall
  const at = { kind: "window" as const, out_mm: 1600, height_mm: height_mm * 0.8, x_mm: width_mm / 2 }
  if (side === "left") return { ...at, x_mm: -0.25 * width_mm }
  if (side === "right") return { ...at, x_mm: 1.25 * width_mm }
  if (side === "bottom") return { ...at, height_mm: 150, out_mm: 900 }
  return { ...at, height_mm: height_mm * 1.5, out_mm: 1400 }
}

/** Which side of the piece a light lies on, seen from the front: what the papers' picture knows. */
export function sideOf(light: Light, piece: Vec): Side {
  const across = light.x_mm - piece.x
  const up = light.height_mm - piece.y
  // Twice as high as aside: only then it counts as from above, because rooms are wider than high.
  if (Math.abs(up) > 2 * Math.abs(across)) return up > 0 ? "top" : "bottom"
  return across < 0 ? "left" : "right"
}
