// What a maker's hand does, as edits of the brief. Only where things are written is known here; whether they may be is
// the server's to say.
import type { Edit } from "../api/types"

export type Brief = Record<string, unknown>
export interface Pin {
  leaf: string
  block: string
  /** as typed, with its unit */
  level?: string
  shade?: string
}

/** Pin a block, or change what its pin holds. */
export function pin(brief: Brief, wanted: Pin): Edit[] {
  const at = pinAt(brief, wanted)
  const { leaf, block, level, shade } = wanted
  const value = {
    leaf,
    block,
    ...(level === undefined ? {} : { level }),
    ...(shade === undefined ? {} : { shade }),
  }
  if (at < 0) return [{ op: "append", path: ["pin"], value }]
  const edits: Edit[] = []
  if (level !== undefined) edits.push({ op: "set", path: ["pin", at, "level"], value: level })
  if (shade !== undefined) edits.push({ op: "set", path: ["pin", at, "shade"], value: shade })
  return edits
}

/** Let a block go again. Nothing to do if it is not pinned. */
export function unpin(brief: Brief, which: Pick<Pin, "leaf" | "block">): Edit[] {
  const at = pinAt(brief, which)
  return at < 0 ? [] : [{ op: "remove", path: ["pin", at] }]
}

/** Write down that somebody agreed to what a check says; keys that nothing was said for are left out. */
export function settle(
  table: Record<string, unknown>,
  said: { by: string; on: string; words: string; with: string },
): Edit[] {
  const told = Object.entries(said).filter(([, text]) => text.trim() !== "")
  return [{ op: "append", path: ["settled"], value: { ...table, ...Object.fromEntries(told) } }]
}

/** A day as the brief writes it, by the clock on the wall. */
export function today(now: Date): string {
  const two = (n: number) => String(n).padStart(2, "0")
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`
}

/** Both blocks change places: each is pinned with what the other has. */
export function swap(brief: Brief, a: Required<Pin>, b: Required<Pin>): Edit[] {
  return [
    ...pin(brief, { ...a, level: b.level, shade: b.shade }),
    ...pin(brief, { ...b, level: a.level, shade: a.shade }),
  ]
}

/** Draw by lot anew; what is pinned stays. */
export function drawAgain(brief: Brief): Edit[] {
  const seed = table(brief, "piece").seed
  return [{ op: "set", path: ["piece", "seed"], value: (typeof seed === "number" ? seed : 1) + 1 }]
}

/** Put a leaf's lower left corner somewhere else on the wall. */
export function place(
  brief: Brief,
  leaf: number,
  name: string,
  x: number | string,
  y: number | string,
): Edit[] {
  if (leaf >= rows(brief, "leaf").length) return [{ op: "append", path: ["leaf"], value: { name, x, y } }]
  return [
    { op: "set", path: ["leaf", leaf, "x"], value: x },
    { op: "set", path: ["leaf", leaf, "y"], value: y },
  ]
}

/** Let a family live at a place, in fractions of the piece from its lower left corner. */
export function home(family: number, x: number, y: number): Edit[] {
  const round = (value: number) => Math.round(Math.min(1, Math.max(0, value)) * 100) / 100
  return [{ op: "set", path: ["family", family, "home"], value: [round(x), round(y)] }]
}

export function rows(brief: Brief, name: string): Record<string, unknown>[] {
  const found = brief[name]
  return Array.isArray(found) ? (found as Record<string, unknown>[]) : []
}

export function table(brief: Brief, name: string): Record<string, unknown> {
  const found = brief[name]
  return found && typeof found === "object" && !Array.isArray(found) ? (found as Record<string, unknown>) : {}
}

/** A length as the brief writes it: a bare number in millimetres, or in inches with the unit spelt where it is not. */
export function written(mm: number, unit: "mm" | "in"): number | string {
  if (unit === "mm") return round(mm, 1)
  return round(mm / 25.4, 4)
}

function pinAt(brief: Brief, which: Pick<Pin, "leaf" | "block">): number {
  return rows(brief, "pin").findIndex(
    (row) => plain(row.block) === plain(which.block) && (row.leaf === undefined || row.leaf === which.leaf),
  )
}

// 7·12 may have been typed 7.12.
const plain = (address: unknown): string => String(address).trim().toLowerCase().replace(".", "·")
const round = (value: number, digits: number): number => Math.round(value * 10 ** digits) / 10 ** digits
