// What the rules say while a hand holds something away from its place: asked when the hand pauses, forgotten when it is put.
import type { Band, Check, Edit, Zone } from "../api/types"
import { words } from "../words"
import { board } from "./board.svelte"

const PATIENCE_MS = 140

export class Trial {
  /** what would be worse there than where it is, and what would be better */
  worse = $state.raw<Check[]>([])
  better = $state.raw<Check[]>([])
  said = $state("")
  /** whether the rules have still to speak */
  asking = $state(false)
  /** the rules' places, and where nothing is drilled, as they are with it; null before the server has said so */
  bands = $state.raw<Band[] | null>(null)
  zones = $state.raw<Zone[] | null>(null)
  #waiting: ReturnType<typeof setTimeout> | undefined
  #calling: AbortController | null = null

  /** Ask once the hand has paused. `where` is spoken before what the rules say. */
  protected askLater(edits: () => Promise<Edit[]>, where: string): void {
    this.asking = true
    clearTimeout(this.#waiting)
    this.#waiting = setTimeout(() => void this.#ask(edits, where), PATIENCE_MS)
  }

  protected quiet(): void {
    clearTimeout(this.#waiting)
    this.#calling?.abort()
  }

  protected forget(): void {
    this.quiet()
    this.worse = []
    this.better = []
    this.bands = null
    this.zones = null
    this.asking = false
    this.said = ""
  }

  async #ask(edits: () => Promise<Edit[]>, where: string): Promise<void> {
    this.#calling?.abort()
    const plan = board.plan
    if (!plan) return
    const calling = (this.#calling = new AbortController())
    const tried = await board.attempt(await edits(), calling.signal)
    if (calling.signal.aborted) return
    this.asking = false
    if (!tried) return
    const was = new Map(plan.checks.map((check) => [check.check_id, check]))
    this.worse = tried.checks.filter(
      (check) => tried.appeared.includes(check.check_id) && check.verdict !== "fine",
    )
    this.better = tried.gone.flatMap((id) => was.get(id) ?? []).filter((check) => check.verdict !== "fine")
    this.bands = tried.bands
    this.zones = tried.zones
    this.said = [
      where,
      ...this.worse.map((check) => `${words.verdict[check.verdict]}: ${check.title}. ${check.found}`),
    ].join(". ")
  }
}
