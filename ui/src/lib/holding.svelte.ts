// The piece held away from its place on the wall: the rules are asked while it is held, and it is put or left.
import type { Band, Check } from "../api/types"
import { words } from "../words"
import { board } from "./board.svelte"
import { place, type Brief } from "./edits"
import { length } from "./lengths"
import { written } from "./edits"
import type { Edit, Unit } from "../api/types"

const PATIENCE_MS = 140

class Holding {
  moved = $state.raw({ x: 0, y: 0 })
  /** what would be worse there than where it hangs, and what would be better */
  worse = $state.raw<Check[]>([])
  better = $state.raw<Check[]>([])
  said = $state("")
  /** whether the rules have still to speak */
  asking = $state(false)
  /** the rules' places as they are where it is held; null before the server has said so */
  bands = $state.raw<Band[] | null>(null)
  #waiting: ReturnType<typeof setTimeout> | undefined
  #asking: AbortController | null = null

  get away(): boolean {
    return this.moved.x !== 0 || this.moved.y !== 0
  }

  move(by: { x: number; y: number }, unit: Unit): void {
    this.moved = by
    this.asking = true
    clearTimeout(this.#waiting)
    this.#waiting = setTimeout(() => void this.#ask(unit), PATIENCE_MS)
  }

  async put(unit: Unit): Promise<void> {
    clearTimeout(this.#waiting)
    this.#asking?.abort()
    if (!this.away || !board.plan) return
    const { outline } = board.plan.geometry
    const where = words.wall.at(
      length(outline.x_mm + this.moved.x, unit),
      length(outline.y_mm + this.moved.y, unit),
    )
    const edits = await this.#edits()
    await board.change(edits, words.wall.moved(where))
    this.leave()
  }

  leave(): void {
    clearTimeout(this.#waiting)
    this.#asking?.abort()
    this.moved = { x: 0, y: 0 }
    this.worse = []
    this.better = []
    this.bands = null
    this.said = ""
  }

  async #ask(unit: Unit): Promise<void> {
    this.#asking?.abort()
    const plan = board.plan
    if (!this.away || !plan) {
      this.worse = []
      this.better = []
      return
    }
    const asking = (this.#asking = new AbortController())
    const tried = await board.attempt(await this.#edits(), asking.signal)
    if (!tried || asking.signal.aborted) return
    const was = new Map(plan.checks.map((check) => [check.check_id, check]))
    this.worse = tried.checks.filter(
      (check) => tried.appeared.includes(check.check_id) && check.verdict !== "fine",
    )
    this.better = tried.gone.flatMap((id) => was.get(id) ?? []).filter((check) => check.verdict !== "fine")
    this.bands = tried.bands
    this.asking = false
    const { outline } = plan.geometry
    const where = words.wall.at(
      length(outline.x_mm + this.moved.x, unit),
      length(outline.y_mm + this.moved.y, unit),
    )
    this.said = [
      where,
      ...this.worse.map((check) => `${words.verdict[check.verdict]}: ${check.title}. ${check.found}`),
    ].join(". ")
  }

  async #edits(): Promise<Edit[]> {
    const whole = await board.whole()
    const brief: Brief = whole.brief
    const leaves = board.plan?.geometry.leaves.filter((leaf) => leaf.copy_n === 1) ?? []
    return leaves.flatMap((leaf) =>
      place(
        brief,
        leaf.index,
        leaf.name,
        written(leaf.x_mm + this.moved.x, whole.unit),
        written(leaf.y_mm + this.moved.y, whole.unit),
      ),
    )
  }
}

export const holding = new Holding()
