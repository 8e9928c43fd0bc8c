// Paper or slate: as the system asks until the maker says otherwise.
import { keep, recall } from "./keep"

export type Ground = "paper" | "slate"

export function firstGround(): Ground {
  const kept = recall("ground")
  if (kept === "paper" || kept === "slate") return kept
  return matchMedia("(prefers-color-scheme: dark)").matches ? "slate" : "paper"
}

export function lay(ground: Ground): void {
  document.documentElement.dataset.ground = ground
}

export function choose(ground: Ground): void {
  keep("ground", ground)
  lay(ground)
}
