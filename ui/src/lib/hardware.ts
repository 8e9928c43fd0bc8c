// What holds the piece, as the brief says it, and what changes when another is chosen by its picture.
import type { Edit } from "../api/types"
import { table, type Brief } from "./edits"

export const HOLDERS = ["wood", "metal", "hinges"] as const
export type Holder = (typeof HOLDERS)[number]

/** Keys of [cleat] that were measured on the one cleat and say nothing of another. */
export const MEASURED_ON_CLEAT = [
  "material",
  "thickness",
  "strip",
  "bevel",
  "length",
  "rating",
  "allowable",
] as const

export function holderOf(brief: Brief): Holder {
  if (table(brief, "access").opens === "swing") return "hinges"
  return table(brief, "cleat").kind === "metal" ? "metal" : "wood"
}

/** Edits that let the piece be held so. What was measured on a cleat of another kind goes; that of hinges stays. */
export function heldBy(brief: Brief, holder: Holder): Edit[] {
  if (holder === holderOf(brief)) return []
  if (holder === "hinges") return [{ op: "set", path: ["access", "opens"], value: "swing" }]
  const cleat = table(brief, "cleat")
  const edits: Edit[] = []
  if (table(brief, "access").opens === "swing")
    edits.push({ op: "set", path: ["access", "opens"], value: "lift-off" })
  if ((cleat.kind ?? "wood") !== holder) {
    for (const key of MEASURED_ON_CLEAT)
      if (cleat[key] !== undefined) edits.push({ op: "remove", path: ["cleat", key] })
    edits.push({ op: "set", path: ["cleat", "kind"], value: holder })
  }
  return edits
}
