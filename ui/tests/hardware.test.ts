import { describe, expect, it } from "vitest"
import { heldBy, holderOf } from "../src/lib/hardware"

describe("what holds the piece", () => {
  it("is a wood cleat where the brief says nothing", () => {
    expect(holderOf({})).toBe("wood")
    expect(holderOf({ cleat: { kind: "metal" } })).toBe("metal")
    expect(holderOf({ cleat: { kind: "metal" }, access: { opens: "swing" } })).toBe("hinges")
  })
  it("is left alone where it is chosen already", () => {
    expect(heldBy({}, "wood")).toEqual([])
  })
  it("takes along nothing that was measured on another cleat, and keeps what belongs to the piece", () => {
    const brief = { cleat: { kind: "metal", thickness: "6 mm", rating: "30 kg", offset: 20 } }
    expect(heldBy(brief, "wood")).toEqual([
      { op: "remove", path: ["cleat", "thickness"] },
      { op: "remove", path: ["cleat", "rating"] },
      { op: "set", path: ["cleat", "kind"], value: "wood" },
    ])
  })
  it("goes to hinges and back by the way it opens alone", () => {
    expect(heldBy({ cleat: { kind: "metal", thickness: 6 } }, "hinges")).toEqual([
      { op: "set", path: ["access", "opens"], value: "swing" },
    ])
    expect(heldBy({ cleat: { kind: "metal", thickness: 6 }, access: { opens: "swing" } }, "metal")).toEqual([
      { op: "set", path: ["access", "opens"], value: "lift-off" },
    ])
  })
})
