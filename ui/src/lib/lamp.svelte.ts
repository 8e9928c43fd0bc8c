// The window or lamp on the room's plan: kept by the browser for each piece; the brief knows only from which side it comes.
import type { PlanView } from "../api/types"
import { words } from "../words"
import { board } from "./board.svelte"
import { keep, recall } from "./keep"
import { lightFromSide, sideOf, type Light } from "./lamp"

class Lamp {
  #placed = $state.raw<Record<string, Light>>({})

  of(plan: PlanView): Light {
    const id = board.piece?.piece_id ?? ""
    const { wall, light } = plan.geometry
    return this.#placed[id] ?? this.#kept(id) ?? lightFromSide(light.side, wall)
  }

  put(light: Light): void {
    const id = board.piece?.piece_id ?? ""
    this.#placed = { ...this.#placed, [id]: light }
    keep(`light.${id}`, JSON.stringify(light))
  }

  /** Let the papers' picture be lit from the same side. */
  async keepInBrief(plan: PlanView): Promise<void> {
    const { outline } = plan.geometry
    const middle = { x: outline.x_mm + outline.width_mm / 2, y: outline.y_mm + outline.height_mm / 2, z: 0 }
    const side = sideOf(this.of(plan), middle)
    await board.change(
      [{ op: "set", path: ["wall", "light_from"], value: side }],
      words.light.kept(words.side[side]),
    )
  }

  #kept(id: string): Light | null {
    const text = recall(`light.${id}`)
    if (!text) return null
    try {
      return JSON.parse(text) as Light
    } catch {
      return null
    }
  }
}

export const lamp = new Lamp()
