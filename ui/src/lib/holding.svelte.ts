// The piece held away from its place on the wall: the rules are asked while it is held, and it is put or left.
import type { Edit, Unit } from "../api/types"
import { words } from "../words"
import { board } from "./board.svelte"
import { place, written, type Brief } from "./edits"
import { length } from "./lengths"
import { Trial } from "./trial.svelte"

class Holding extends Trial {
  moved = $state.raw({ x: 0, y: 0 })

  get away(): boolean {
    return this.moved.x !== 0 || this.moved.y !== 0
  }

  move(by: { x: number; y: number }, unit: Unit): void {
    this.moved = by
    if (this.away) this.askLater(() => this.#edits(), this.#where(unit))
    else this.forget()
  }

  async put(unit: Unit): Promise<void> {
    this.quiet()
    if (!this.away || !board.plan) return
    const where = this.#where(unit)
    await board.change(await this.#edits(), words.wall.moved(where))
    this.leave()
  }

  leave(): void {
    this.moved = { x: 0, y: 0 }
    this.forget()
  }

  #where(unit: Unit): string {
    const { x_mm, y_mm } = board.plan?.geometry.outline ?? { x_mm: 0, y_mm: 0 }
    return words.wall.at(length(x_mm + this.moved.x, unit), length(y_mm + this.moved.y, unit))
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
