// What lies behind the wall, held away from its place: a cable, pipe or duct, or how deep something sits. Put, or left.
import type { Edit, Unit } from "../api/types"
import { words } from "../words"
import type { Line, Point } from "./behind"
import { board } from "./board.svelte"
import { written } from "./edits"
import { length } from "./lengths"
import { Trial } from "./trial.svelte"

class Tracing extends Trial {
  run = $state.raw<{ index: number; line: Line } | null>(null)
  depth = $state.raw<{ index: number; depth_mm: number } | null>(null)

  get away(): boolean {
    return this.run !== null || this.depth !== null
  }

  /** Hold a run with its ends there. */
  trace(index: number, line: Line, unit: Unit): void {
    this.depth = null
    this.run = { index, line }
    this.askLater(() => this.#edits(), this.#where(unit))
  }

  /** Hold a fixture so deep in the wall. */
  sink(index: number, depth_mm: number, unit: Unit): void {
    this.run = null
    this.depth = { index, depth_mm }
    this.askLater(() => this.#edits(), this.#where(unit))
  }

  async put(unit: Unit): Promise<void> {
    this.quiet()
    if (!this.away || !board.plan) return
    await board.change(await this.#edits(), this.#where(unit))
    this.leave()
  }

  leave(): void {
    this.run = null
    this.depth = null
    this.forget()
  }

  #where(unit: Unit): string {
    const { runs = [], fixtures = [] } = board.plan?.geometry ?? {}
    if (this.run) {
      const { index, line } = this.run
      const at = ([x, y]: Point) => words.behind.at(length(x, unit), length(y, unit))
      return words.behind.traced(runs[index]?.name ?? "", at(line.from), at(line.to))
    }
    if (!this.depth) return ""
    const { index, depth_mm } = this.depth
    return words.behind.sunk(fixtures[index]?.name ?? "", length(depth_mm, unit))
  }

  async #edits(): Promise<Edit[]> {
    const { unit } = await board.whole()
    if (this.run) {
      const { index, line } = this.run
      const end = (key: "from" | "to"): Edit => ({
        op: "set",
        path: ["run", index, key],
        value: line[key].map((mm) => written(mm, unit)),
      })
      return [end("from"), end("to")]
    }
    if (!this.depth) return []
    const { index, depth_mm } = this.depth
    return [{ op: "set", path: ["fixture", index, "recess"], value: written(depth_mm, unit) }]
  }
}

export const tracing = new Tracing()
