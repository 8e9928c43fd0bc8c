// Forms over the brief: the values that stand there, edits that the server judges, and its faults beside their fields.
import type { Edit, Piece } from "../api/types"
import { board } from "./board.svelte"
import type { Brief } from "./edits"
import { edit, type Path } from "./typed"

export class Form {
  brief = $state.raw<Brief>({})
  #wrong = $state.raw<ReadonlyMap<string, string>>(new Map())

  /** Call in an effect on the piece: the brief is read anew whenever the revision is another. */
  read(piece: Piece): void {
    void piece.revision_n
    void board.guard(async () => {
      this.brief = (await board.whole()).brief
    })
  }

  async set(path: Path, text: string, said: string, list = false): Promise<void> {
    await this.#send([edit(path, text, list)], path, said)
  }

  async add(table: string, row: Record<string, unknown>, said: string): Promise<void> {
    await this.#send([{ op: "append", path: [table], value: row }], [table], said)
  }

  async remove(path: Path, said: string): Promise<void> {
    await this.#send([{ op: "remove", path }], path, said)
  }

  async send(edits: Edit[], said: string): Promise<boolean> {
    return this.#send(edits, [], said)
  }

  wrong(path: Path): string {
    return this.#wrong.get(counted(path)) ?? ""
  }

  async #send(edits: Edit[], path: Path, said: string): Promise<boolean> {
    const good = await board.change(edits, said)
    const faults = good ? [] : (board.refusal?.faults ?? [])
    this.#wrong = new Map(
      faults.map((fault) => [fault.field, `${fault.found}. ${fault.allowed}. ${fault.remedy}`]),
    )
    // What stands beside its field need not stand at the head of the sheet as well.
    if (!good && path.length && faults.length && faults.every((fault) => fault.field === counted(path)))
      board.refusal = null
    return good
  }
}

/** A path as the server's faults name it: `fixture[1].width`, counted from 1. */
export function counted(path: Path): string {
  return path
    .map((part, at) => (typeof part === "number" ? `[${part + 1}]` : at === 0 ? part : `.${part}`))
    .join("")
}
