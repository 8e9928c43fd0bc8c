import { describe, expect, it } from "vitest"
import { deeper, dragged, hatch, step, type Line } from "../src/lib/behind"

const wall = { width_mm: 3200, height_mm: 2450 }
const pipe: Line = { from: [1203, 0], to: [1203, 1200] }

describe("a run under a hand", () => {
  it("goes as a whole onto the grid and keeps its length", () => {
    expect(dragged(pipe, "whole", { x: 98, y: 0 }, wall, "mm")).toEqual({ from: [1300, 0], to: [1300, 1200] })
  })
  it("stays on the wall, whatever the hand does", () => {
    expect(dragged(pipe, "whole", { x: -9000, y: 9000 }, wall, "mm")).toEqual({
      from: [0, 1250],
      to: [0, 2450],
    })
    expect(dragged(pipe, "to", { x: 9000, y: -9000 }, wall, "mm")).toEqual({ from: [1203, 0], to: [3200, 0] })
  })
  it("moves by one end alone, and in one direction where the hand goes in one", () => {
    expect(dragged(pipe, "from", { x: 52, y: 0 }, wall, "mm")).toEqual({ from: [1255, 0], to: [1203, 1200] })
  })
  it("never ends where it begins", () => {
    const short: Line = { from: [1000, 0], to: [1000, 10] }
    expect(dragged(short, "to", { x: 0, y: -10 }, wall, "mm")).toEqual(short)
  })
  it("keeps to quarters of an inch", () => {
    const { from } = dragged({ from: [508, 0], to: [508, 900] }, "from", { x: 11, y: 0 }, wall, "in")
    expect(from[0] / 25.4).toBeCloseTo(20.5, 9)
  })
})

it("a depth ends at the face of the wall and where the drawing ends", () => {
  expect(deeper(88, 4, 200, "mm")).toBe(90)
  expect(deeper(10, -40, 200, "mm")).toBe(0)
  expect(deeper(190, 40, 200, "mm")).toBe(200)
})

it("a key moves by a step that a tape has, and Shift by a larger one", () => {
  expect(step("ArrowUp", false, "mm")).toEqual({ x: 0, y: 10 })
  expect(step("ArrowLeft", true, "in")?.x).toBeCloseTo(-63.5, 9)
  expect(step("Enter", false, "mm")).toBeNull()
})

describe("the hatch of a zone", () => {
  const square: [number, number][] = [
    [0, 0],
    [100, 0],
    [100, 100],
    [0, 100],
  ]
  it("crosses it from edge to edge, rising to the right", () => {
    const lines = hatch(square, 10)
    expect(lines.length).toBeGreaterThan(10)
    for (const [[ax, ay], [bx, by]] of lines) {
      expect((by - ay) / (bx - ax)).toBeCloseTo(Math.tan(Math.PI / 6), 6)
      for (const end of [ax, ay, bx, by]) expect(end).toSatisfy((v: number) => v > -1e-6 && v < 100 + 1e-6)
      for (const [x, y] of [[ax, ay] as const, [bx, by] as const])
        expect(Math.min(x, y, 100 - x, 100 - y)).toBeCloseTo(0, 6)
    }
  })
  it("stands as far apart as was asked", () => {
    const level = hatch(square, 10).map(([[x, y]]) => y * Math.cos(Math.PI / 6) - x * Math.sin(Math.PI / 6))
    level.slice(1).forEach((one, at) => expect(one - (level[at] ?? 0)).toBeCloseTo(10, 6))
  })
})
