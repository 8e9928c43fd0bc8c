import { describe, expect, it } from "vitest"
import type { Check } from "../src/api/types"
import { notesOf, ordered, worst } from "../src/lib/pins"

function check(name: string, kind: Check["kind"], verdict: Check["verdict"], view = "wall"): Check {
  return { name, kind, verdict, about: { view } } as Check
}

const mixed = [
  check("look", "taste", "caution"),
  check("money", "spoil", "caution"),
  check("lift", "harm", "caution"),
  check("good", "harm", "fine"),
  check("stock", "spoil", "stop", "saw"),
  check("board", "harm", "stop", "hang"),
]

describe("notes", () => {
  it("begin with what can hurt somebody and end with taste", () => {
    expect(ordered(mixed).map((one) => one.name)).toEqual(["board", "stock", "lift", "money", "good", "look"])
  })
  it("of one sheet leave out what is fine", () => {
    expect(notesOf(mixed, "wall").map((one) => one.name)).toEqual(["lift", "money", "look"])
  })
  it("give a sheet its worst verdict, whatever is at stake", () => {
    expect(worst(mixed, "wall")).toBe("caution")
    expect(worst(mixed, "saw")).toBe("stop")
    expect(worst(mixed, "paint")).toBe("fine")
  })
})
