import { describe, expect, it } from "vitest"
import { drawAgain, home, pin, place, settle, swap, today, unpin, written } from "../src/lib/edits"

describe("an answer", () => {
  it("holds what the server said, who and when, and no empty words", () => {
    const table = { check: "lift_off", of: "hatch", for: "100 times a year" }
    expect(settle(table, { by: "R. Voss", on: "2026-03-02", words: " ", with: "a hook" })).toEqual([
      {
        op: "append",
        path: ["settled"],
        value: { ...table, by: "R. Voss", on: "2026-03-02", with: "a hook" },
      },
    ])
  })
  it("is of the day on the wall", () => {
    expect(today(new Date(2026, 2, 2, 23, 59))).toBe("2026-03-02")
  })
})

describe("a pin", () => {
  it("is appended to a brief that has none", () => {
    expect(pin({}, { leaf: "whole", block: "7·12", level: "30 mm" })).toEqual([
      { op: "append", path: ["pin"], value: { leaf: "whole", block: "7·12", level: "30 mm" } },
    ])
  })
  it("is found again however its address was typed", () => {
    const brief = { pin: [{ block: "1.1" }, { leaf: "whole", block: "7.12b", level: 26 }] }
    expect(pin(brief, { leaf: "whole", block: "7·12b", shade: "moss 62" })).toEqual([
      { op: "set", path: ["pin", 1, "shade"], value: "moss 62" },
    ])
    expect(unpin(brief, { leaf: "whole", block: "7·12b" })).toEqual([{ op: "remove", path: ["pin", 1] }])
  })
  it("of another leaf is another pin", () => {
    const brief = { pin: [{ leaf: "left", block: "1·1", level: 26 }] }
    expect(pin(brief, { leaf: "right", block: "1·1", level: "26 mm" })[0]?.op).toBe("append")
    expect(unpin(brief, { leaf: "right", block: "1·1" })).toEqual([])
  })
})

it("swapping pins each block with what the other has", () => {
  const a = { leaf: "whole", block: "1·1", level: "18 mm", shade: "moss 62" }
  const b = { leaf: "whole", block: "2·5", level: "30 mm", shade: "clay 58" }
  const values = swap({}, a, b).map((edit) => edit.value)
  expect(values).toEqual([
    { ...a, level: b.level, shade: b.shade },
    { ...b, level: a.level, shade: a.shade },
  ])
})

it("drawing again takes the next seed, also where none was written", () => {
  expect(drawAgain({ piece: { seed: 23 } })).toEqual([{ op: "set", path: ["piece", "seed"], value: 24 }])
  expect(drawAgain({})[0]?.value).toBe(2)
})

it("a leaf that the brief does not place gets a place", () => {
  expect(place({}, 0, "whole", 890, 480)).toEqual([
    { op: "append", path: ["leaf"], value: { name: "whole", x: 890, y: 480 } },
  ])
  expect(place({ leaf: [{}] }, 0, "whole", 890, 480)).toHaveLength(2)
})

it("a home stays on the piece", () => {
  expect(home(1, -0.2, 0.637)[0]?.value).toEqual([0, 0.64])
})

it("lengths are written in the unit of the brief", () => {
  expect(written(889, "in")).toBe(35)
  expect(written(890.04, "mm")).toBe(890)
})
