// Which notes hang on which sheet, and in which order: stop before caution before fine, otherwise as the plan says.
import type { Check, Verdict } from "../api/types"

const HARD: Record<Verdict, number> = { stop: 0, caution: 1, fine: 2 }

export function ordered(checks: readonly Check[]): Check[] {
  return checks
    .map((check, at) => ({ check, at }))
    .sort((a, b) => HARD[a.check.verdict] - HARD[b.check.verdict] || a.at - b.at)
    .map(({ check }) => check)
}

/** Notes of one sheet that ask for something; what is fine stands on the checks sheet only. */
export function notesOf(checks: readonly Check[], view: string): Check[] {
  return ordered(checks.filter((check) => check.about.view === view && check.verdict !== "fine"))
}

/** Worst verdict of a sheet, for its tab; fine when nothing hangs there. */
export function worst(checks: readonly Check[], view: string): Verdict {
  return notesOf(checks, view)[0]?.verdict ?? "fine"
}
