// Between what a maker types into a field and what stands in the brief. The server judges; this only keeps bare numbers bare.
import type { Edit } from "../api/types"

export type Path = (string | number)[]

/** What a field shows for a value of the brief. */
export function shown(value: unknown): string {
  if (value === null || value === undefined) return ""
  if (Array.isArray(value)) return value.map(shown).join(", ")
  return String(value)
}

/** What the brief gets for what was typed: a number where it is one, otherwise the words with their unit. */
export function meant(text: string): number | string {
  const trimmed = text.trim()
  return /^-?\d+(\.\d+)?$/.test(trimmed) ? Number(trimmed) : trimmed
}

/** What the brief gets for a list typed with commas. */
export function meantList(text: string): (number | string)[] {
  return text
    .split(/[,;]/)
    .map((part) => part.trim())
    .filter((part) => part !== "")
    .map(meant)
}

/** Set a value, or take it out where the field was emptied. */
export function edit(path: Path, text: string, list = false): Edit {
  if (text.trim() === "") return { op: "remove", path }
  return { op: "set", path, value: list ? meantList(text) : meant(text) }
}
