// Where on the wall or on the piece a note belongs, from the thing that the server says it is about.
import type { Box, Check, PlanView } from "../api/types"

export interface Spot {
  x_mm: number
  y_mm: number
}

/** The rectangle on the wall that a check is about; the whole piece where nothing smaller is meant. */
export function boxOf(check: Check, plan: PlanView): Box {
  const { geometry } = plan
  const { anchor, name } = check.about
  const named = <T extends { name: string }>(all: readonly T[]): T | undefined =>
    all.find((one) => one.name === name) ?? all.find((one) => name.includes(one.name)) ?? all[0]
  if (anchor === "fixture") return named(geometry.fixtures) ?? geometry.outline
  if (anchor === "furniture") return named(geometry.furniture) ?? geometry.outline
  if (anchor === "keep clear") return named(geometry.keep_clear) ?? geometry.outline
  if (anchor === "leaf") return named(geometry.leaves) ?? geometry.outline
  if (anchor === "eye") {
    const eye = named(geometry.eyes)
    if (eye) return { x_mm: eye.x_mm, y_mm: eye.height_mm, width_mm: 0, height_mm: 0 }
  }
  return geometry.outline
}

/** The blocks that a check on the relief or the fade is about: those of a shade, family or leaf that it names. */
export function blocksOf(check: Check, plan: PlanView): number[] {
  const { blocks, shades, geometry } = plan
  const wanted = check.about.name
  const all = blocks.address.map((_, at) => at)
  if (!wanted) return all
  const address = all.filter((at) => blocks.address[at] === wanted)
  if (address.length) return address
  const shade = all.filter((at) => {
    const found = shades[blocks.shade[at] ?? 0]
    return found !== undefined && (found.name === wanted || found.family === wanted)
  })
  if (shade.length) return shade
  const leaf = geometry.leaves.findIndex((one) => one.name === wanted)
  return leaf < 0 ? all : all.filter((at) => blocks.leaf[at] === leaf)
}

/** Points for the marks of notes, spread along the upper edge of what they are about so that none covers another. */
export function spots(boxes: readonly Box[], step_mm: number): Spot[] {
  const used = new Map<string, number>()
  return boxes.map((box) => {
    const key = `${box.x_mm},${box.y_mm},${box.width_mm},${box.height_mm}`
    const nth = used.get(key) ?? 0
    used.set(key, nth + 1)
    return {
      x_mm: box.x_mm + Math.min(step_mm * (0.6 + nth), Math.max(box.width_mm, step_mm)),
      y_mm: box.y_mm + box.height_mm,
    }
  })
}
