// What a hand does with a picked block: try it at the server, say what breaks, do it. One at a time.
import type { Check, Edit } from "../api/types"
import { words } from "../words"
import { board } from "./board.svelte"
import { drawAgain, pin, swap, unpin, type Brief, type Pin } from "./edits"
import { blockName, leafName } from "./say"

interface Waiting {
  edits: Edit[]
  said: string
  broken: Check[]
  /** why nothing could be drawn any more */
  impossible: string
}

class Handling {
  trying = $state(false)
  waiting = $state.raw<Waiting | null>(null)
  swapping = $state<number | null>(null)

  pick(block: number | null): void {
    board.picked = block
    this.waiting = null
  }

  pin(block: number): Promise<void> {
    return board.during(async () => {
      const { brief } = await board.whole()
      await board.change(pin(brief, this.#pinOf(block)), words.picked.did.pin(this.#name(block)))
    })
  }

  unpin(block: number): Promise<void> {
    return board.during(async () => {
      const { brief } = await board.whole()
      const edits = unpin(brief, this.#pinOf(block))
      if (edits.length) await board.change(edits, words.picked.did.unpin(this.#name(block)))
    })
  }

  async level(block: number, level: number): Promise<void> {
    const found = board.plan?.levels[level]
    if (!found) return
    const { leaf, block: address } = this.#pinOf(block)
    const wanted = { leaf, block: address, level: `${found.height_mm} mm` }
    await this.#try((brief) => pin(brief, wanted), words.picked.did.level(this.#name(block), found.text))
  }

  async shade(block: number, shade: number): Promise<void> {
    const found = board.plan?.shades[shade]
    if (!found) return
    const { leaf, block: address } = this.#pinOf(block)
    const wanted = { leaf, block: address, shade: found.name }
    await this.#try((brief) => pin(brief, wanted), words.picked.did.shade(this.#name(block), found.name))
  }

  /** First press marks a block, the second swaps it with the one picked by then. */
  async swap(block: number): Promise<void> {
    const first = this.swapping
    if (first === null) {
      this.swapping = block
      board.say(words.picked.swapWith(this.#name(block)))
      return
    }
    this.swapping = null
    if (first === block) return
    const [a, b] = [this.#pinOf(first), this.#pinOf(block)]
    await this.#try((brief) => swap(brief, a, b), words.picked.did.swap(this.#name(first), this.#name(block)))
  }

  redraw(): Promise<void> {
    return board.during(async () => {
      const { brief } = await board.whole()
      await board.change(drawAgain(brief), words.relief.drewAgain)
    })
  }

  async sure(): Promise<void> {
    const waiting = this.waiting
    this.waiting = null
    if (waiting) await board.change(waiting.edits, waiting.said)
  }

  leave(): void {
    this.waiting = null
  }

  /** A key on a picked block. True when it meant something. */
  key(key: string): boolean {
    const { picked, plan } = board
    if (picked === null || !plan || board.busy || this.trying) return false
    const { level, shade, pinned_level, pinned_shade } = plan.blocks
    const step = { "+": 1, "=": 1, "-": -1 }[key]
    const tone = { ".": 1, ",": -1 }[key]
    if (key === "p" || key === "P")
      void (pinned_level[picked] || pinned_shade[picked] ? this.unpin(picked) : this.pin(picked))
    else if (key === "s" || key === "S") void this.swap(picked)
    else if (step) void this.level(picked, (level[picked] ?? 0) + step)
    else if (tone) void this.shade(picked, (shade[picked] ?? 0) + tone)
    else return false
    return true
  }

  async #try(editsOf: (brief: Brief) => Edit[], said: string): Promise<void> {
    this.trying = true
    this.waiting = null
    await board.during(async () => {
      const edits = editsOf((await board.whole()).brief)
      const tried = await board.attempt(edits)
      this.trying = false
      if (!tried) return
      const broken = tried.checks.filter(
        (check) => tried.appeared.includes(check.check_id) && check.verdict !== "fine",
      )
      const impossible = tried.no_plan ? `${tried.no_plan.reason} ${tried.no_plan.remedy}` : ""
      if (broken.length === 0 && !impossible) await board.change(edits, said)
      else this.waiting = { edits, said, broken, impossible }
    })
    this.trying = false
  }

  #pinOf(block: number): Required<Pin> {
    const plan = board.plan
    return {
      leaf: plan ? leafName(plan, block) : "",
      block: plan?.blocks.address[block] ?? "",
      level: `${plan?.levels[plan.blocks.level[block] ?? 0]?.height_mm ?? 0} mm`,
      shade: plan?.shades[plan.blocks.shade[block] ?? 0]?.name ?? "",
    }
  }

  #name(block: number): string {
    return board.plan ? blockName(board.plan, block) : ""
  }
}

export const handling = new Handling()
