import { describe, expect, it } from "vitest"
import { step, type Faces } from "../src/lib/cursor"

// Two rows: three narrow blocks over one narrow and one wide; a second leaf to the right, 3 mm on.
const faces: Faces = {
  x_mm: [0, 70, 140, 0, 70, 213],
  y_mm: [45, 45, 45, 0, 0, 45],
  width_mm: [70, 70, 70, 70, 140, 70],
  height_mm: [45, 45, 45, 45, 45, 45],
}

describe("the cursor", () => {
  it("goes to the neighbour on that side", () => {
    expect(step(faces, 0, "right")).toBe(1)
    expect(step(faces, 1, "left")).toBe(0)
    expect(step(faces, 0, "down")).toBe(3)
    expect(step(faces, 3, "up")).toBe(0)
  })
  it("takes the nearest middle where two lie beside a wide block", () => {
    expect([1, 2]).toContain(step(faces, 4, "up"))
  })
  it("goes over to the next leaf", () => {
    expect(step(faces, 2, "right")).toBe(5)
    expect(step(faces, 5, "left")).toBe(2)
  })
  it("stays where nothing lies on that side", () => {
    expect(step(faces, 0, "left")).toBe(0)
    expect(step(faces, 0, "up")).toBe(0)
    expect(step(faces, 3, "down")).toBe(3)
  })
  it("reaches every block of a broken field by arrows", () => {
    const reached = new Set([0])
    for (const at of reached)
      for (const way of ["left", "right", "up", "down"] as const) reached.add(step(faces, at, way))
    expect(reached.size).toBe(6)
  })
})
