// Which notes hang on which sheet, and in which order: stop before caution before fine, within them people before piece,
// wall and money; all of taste in one block, last. Otherwise as the plan says.
import type { Check, Verdict } from "../api/types"

const HARD: Record<Verdict, number> = { stop: 0, caution: 1, fine: 2 }
const STAKE: Record<Check["kind"], number> = { harm: 0, spoil: 1, taste: 2 }

function rank({ kind, verdict }: Check): number {
  return (kind === "taste" ? 100 : 0) + 10 * HARD[verdict] + STAKE[kind]
}

export function ordered(checks: readonly Check[]): Check[] {
  return checks
    .map((check, at) => ({ check, at }))
    .sort((a, b) => rank(a.check) - rank(b.check) || a.at - b.at)
    .map(({ check }) => check)
}

/** Notes of one sheet that ask for something; what is fine stands on the checks sheet only. */
export function notesOf(checks: readonly Check[], view: string): Check[] {
  return ordered(checks.filter((check) => check.about.view === view && check.verdict !== "fine"))
}

/** Worst verdict of a sheet, for its tab; fine when nothing hangs there. */
export function worst(checks: readonly Check[], view: string): Verdict {
  const found = notesOf(checks, view).map((check) => check.verdict)
  return found.reduce((one, other) => (HARD[other] < HARD[one] ? other : one), "fine" as Verdict)
}
