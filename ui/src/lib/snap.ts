// Moving the piece on the wall: how far a hand or a key moves it, in steps that a tape measure has.
import type { Unit } from "../api/types"

/** The step that a dragged piece keeps to, and a key moves by: 5 mm, or a quarter of an inch. */
export function grid(unit: Unit): number {
  return unit === "mm" ? 5 : 6.35
}

export function snapped(mm: number, unit: Unit): number {
  const step = grid(unit)
  return Math.round(mm / step) * step
}

/** A shift of a whole piece that keeps its lower left corner on the grid and the piece on the wall. */
export function shift(
  outline: { x_mm: number; y_mm: number; width_mm: number; height_mm: number },
  wall: { width_mm: number; height_mm: number },
  by: { x: number; y: number },
  unit: Unit,
): { x: number; y: number } {
  const put = (start: number, size: number, room: number, move: number) => {
    if (move === 0) return 0
    const most = Math.max(0, room - size)
    return Math.min(most, Math.max(0, snapped(start + move, unit))) - start
  }
  return {
    x: put(outline.x_mm, outline.width_mm, wall.width_mm, by.x),
    y: put(outline.y_mm, outline.height_mm, wall.height_mm, by.y),
  }
}
