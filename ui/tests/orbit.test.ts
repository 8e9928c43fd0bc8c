import { describe, expect, it } from "vitest"
import {
  between,
  fitted,
  fromEye,
  moved,
  standOf,
  turned,
  type Room,
  type Stand,
  type Vec,
} from "../src/lib/orbit"

const piece: Room = { min: { x: 890, y: 480, z: 0 }, max: { x: 2010, y: 1200, z: 76 } }

/** Where a point falls in the frame, -1 to 1 both ways, by the textbook look-at camera. */
function seen(stand: Stand, aspect: number, point: Vec): [number, number] {
  const sub = (a: Vec, b: Vec) => ({ x: a.x - b.x, y: a.y - b.y, z: a.z - b.z })
  const cross = (a: Vec, b: Vec) => ({
    x: a.y * b.z - a.z * b.y,
    y: a.z * b.x - a.x * b.z,
    z: a.x * b.y - a.y * b.x,
  })
  const dot = (a: Vec, b: Vec) => a.x * b.x + a.y * b.y + a.z * b.z
  const unit = (a: Vec) => {
    const size = Math.hypot(a.x, a.y, a.z)
    return { x: a.x / size, y: a.y / size, z: a.z / size }
  }
  const back = unit(sub(stand.eye, stand.target))
  const right = unit(cross({ x: 0, y: 1, z: 0 }, back))
  const up = cross(back, right)
  const at = sub(point, stand.eye)
  const tan = Math.tan((stand.fov_deg * Math.PI) / 360)
  const deep = -dot(at, back)
  return [dot(at, right) / deep / tan / aspect, dot(at, up) / deep / tan]
}

const corners = [piece.min.x, piece.max.x].flatMap((x) =>
  [piece.min.y, piece.max.y].flatMap((y) => [piece.min.z, piece.max.z].map((z) => ({ x, y, z }))),
)

describe("a stand", () => {
  for (const view of ["front", "left", "right", "above", "apart"] as const)
    for (const aspect of [0.45, 1, 2.4])
      it(`from ${view} at ${aspect} shows every corner, and fills the frame`, () => {
        const stand = standOf(view, piece, aspect)
        const most = corners.flatMap((corner) => seen(stand, aspect, corner).map(Math.abs))
        expect(Math.max(...most)).toBeLessThan(1)
        expect(Math.max(...most)).toBeGreaterThan(0.8)
      })

  it("at an eye looks from there and shows the whole piece", () => {
    const eye = { x: 2600, y: 700, z: 1900 }
    const stand = fromEye(eye, piece, 1.5)
    expect(stand.eye).toEqual(eye)
    for (const corner of corners)
      for (const share of seen(stand, 1.5, corner)) expect(Math.abs(share)).toBeLessThan(1)
  })

  it("never goes behind the wall, however far it is turned", () => {
    let stand = fitted(0, 0, piece, 1)
    for (let n = 0; n < 60; n++) stand = turned(stand, 10, 3)
    expect(stand.eye.z).toBeGreaterThan(0)
  })

  it("keeps its distance when turned and its direction when moved", () => {
    const stand = standOf("front", piece, 1)
    const far = (one: Stand) =>
      Math.hypot(one.eye.x - one.target.x, one.eye.y - one.target.y, one.eye.z - one.target.z)
    expect(far(turned(stand, 30, 10))).toBeCloseTo(far(stand), 6)
    expect(far(moved(stand, 0.5))).toBeCloseTo(far(stand) / 2, 6)
    expect(moved(stand, 0.5).eye.x).toBeCloseTo(stand.eye.x, 6)
  })

  it("walks from one to another", () => {
    const [from, to] = [standOf("front", piece, 1), standOf("left", piece, 1)]
    expect(between(from, to, 0)).toEqual(from)
    expect(between(from, to, 1).eye.x).toBeCloseTo(to.eye.x, 9)
  })
})
