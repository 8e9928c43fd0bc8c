// How a block is called, on the page and aloud.
import type { PlanView } from "../api/types"
import { words } from "../words"

/** `7·12b` to row seven, column twelve, letter b. */
export function parts(address: string): { row: number; column: number; letter: string } {
  const found = /^(\d+)·(\d+)([a-z]*)$/.exec(address)
  return { row: Number(found?.[1] ?? 0), column: Number(found?.[2] ?? 0), letter: found?.[3] ?? "" }
}

export function isPinned(plan: PlanView, block: number): boolean {
  return Boolean(plan.blocks.pinned_level[block] || plan.blocks.pinned_shade[block])
}

export function leafName(plan: PlanView, block: number): string {
  return plan.geometry.leaves[plan.blocks.leaf[block] ?? 0]?.name ?? ""
}

/** Name of a block; its leaf is said where there are several. */
export function blockName(plan: PlanView, block: number): string {
  const address = plan.blocks.address[block] ?? ""
  return plan.geometry.leaves.length > 1 ? `${leafName(plan, block)} ${address}` : address
}

export function spoken(plan: PlanView, block: number, size: string): string {
  const { row, column, letter } = parts(plan.blocks.address[block] ?? "")
  const leaf = plan.geometry.leaves.length > 1 ? `${leafName(plan, block)}, ` : ""
  return words.picked.spoken(
    leaf + words.picked.row(row, column, letter),
    size,
    plan.levels[plan.blocks.level[block] ?? 0]?.text ?? "",
    plan.shades[plan.blocks.shade[block] ?? 0]?.name ?? "",
    isPinned(plan, block),
  )
}
