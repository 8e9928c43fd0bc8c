import { describe, expect, it } from "vitest"
import { partsOf, type Part } from "../src/lib/scene"

type Geometry = Parameters<typeof partsOf>[0]
const STEP = 300

function solid(
  name: string,
  number: number,
  moves: boolean,
  box: number[],
  depth: [number, number],
  bevel = 0,
) {
  const [x_mm = 0, y_mm = 0, width_mm = 0, height_mm = 0] = box
  const top_mm = y_mm + height_mm
  return {
    kind: name,
    name,
    number,
    moves,
    leaf: 0,
    x_mm,
    y_mm,
    width_mm,
    height_mm,
    back_mm: depth[0],
    front_mm: depth[1],
    edges_mm: [y_mm, top_mm, y_mm + bevel, top_mm],
  }
}

const geometry = {
  leaves: [{ backer: { x_mm: 0, y_mm: 0, width_mm: 1000, height_mm: 600 } }],
  solids: [
    solid("frame rail 1", 2, true, [20, 580, 960, 20], [0, 60]),
    solid("frame rail 2", 2, true, [20, 0, 960, 20], [0, 60]),
    solid("frame stile 1", 3, true, [0, 80, 20, 420], [0, 60]),
    solid("frame stile 2", 3, true, [980, 80, 20, 420], [0, 60]),
    solid("panel half", 4, true, [20, 460, 960, 70], [0, 18], 18),
    solid("packer", 5, true, [20, 460, 960, 70], [18, 60]),
    solid("wall half", 6, false, [22, 400, 956, 70], [6, 18]),
    solid("wall packer", 7, false, [22, 400, 956, 70], [0, 6]),
  ],
} as unknown as Geometry

function box(part: Part, apart: number) {
  const x = part.x + part.apart.x * apart
  const y = part.y + part.apart.y * apart
  const z = part.z + part.apart.layer * STEP * apart
  return { x0: x, x1: x + part.width, y0: y, y1: y + part.height, z0: z, z1: z + part.depth }
}

describe("parts taken apart", () => {
  it("are all there, by name and number", () => {
    expect(partsOf(geometry).map((part) => [part.name, part.number])).toEqual(
      geometry.solids.map((one) => [one.name, one.number]),
    )
  })

  it("keep their bevels, told from their own foot", () => {
    const edges = partsOf(geometry).map((part) => part.edges)
    expect(edges[4]).toEqual([0, 70, 18, 70])
    expect(edges[5]).toEqual([0, 70, 0, 70])
  })

  it("touch no other part", () => {
    const boxes = partsOf(geometry).map((part) => box(part, 1))
    boxes.forEach((a, n) => {
      for (const b of boxes.slice(0, n)) {
        const across = Math.min(a.x1, b.x1) - Math.max(a.x0, b.x0)
        const up = Math.min(a.y1, b.y1) - Math.max(a.y0, b.y0)
        const out = Math.min(a.z1, b.z1) - Math.max(a.z0, b.z0)
        expect(Math.min(across, up, out)).toBeLessThan(0)
      }
    })
  })

  it("stand where the plan has them when put together", () => {
    const [rail] = partsOf(geometry)
    expect(rail && box(rail, 0)).toEqual({ x0: 20, x1: 980, y0: 580, y1: 600, z0: 0, z1: 60 })
  })

  it("stay near the wall when they stay on it", () => {
    for (const part of partsOf(geometry))
      if (part.moves) expect(part.apart.layer).toBeGreaterThan(0.4)
      else expect(part.apart.layer).toBeLessThan(0.3)
  })
})
