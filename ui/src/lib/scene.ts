// From the plan as the server tells it to what stands in the picture: boxes, colours and nothing else.
import type { Box, PlanView } from "../api/types"
import type { Room } from "./orbit"

export interface Solid {
  x: number
  y: number
  z: number
  width: number
  height: number
  depth: number
  colour: string
}
/** A part behind the blocks or on the wall, and where it goes when the piece is taken apart. */
export interface Part extends Solid {
  name: string
  number: number
  moves: boolean
  /** lower and upper edge at the back, then at the front, from its own foot: a bevel differs there */
  edges: readonly [number, number, number, number]
  /** across and up in mm; off the wall in layers, 0 to 1 between wall and backer */
  apart: { x: number; y: number; layer: number }
}
export interface Scene {
  count: number
  /** six numbers a block: x, y, z of its lower left back corner, width, height, depth; mm */
  boxes: Float32Array
  /** red, green, blue a block, 0 to 1, as in the colour's own code (sRGB) */
  colours: Float32Array
  wall: { width: number; height: number; colour: string }
  backers: Solid[]
  parts: Part[]
  fixtures: Solid[]
  furniture: Solid[]
  /** the piece with the room that it takes in front of the wall */
  piece: Room
}

const FIXTURE = "#b9b4ac"
const FURNITURE = "#cfcac2"
const STRIP = "#a08b72"
const LIPPING = "#8b7a66"
const SIDEWAYS_MM = 30
const NEAREST = 0.45 // the first layer that moves, clear of the last on the wall
const ON_THE_WALL = 0.2

export function sceneOf(plan: PlanView): Scene {
  const { blocks, geometry } = plan
  const count = blocks.x_mm.length
  const boxes = new Float32Array(count * 6)
  const colours = new Float32Array(count * 3)
  const stand = geometry.stand_off_mm
  const shades = plan.shades.map((shade) => rgb(shade.colour))
  for (let index = 0; index < count; index++) {
    boxes.set(
      [
        blocks.x_mm[index] ?? 0,
        blocks.y_mm[index] ?? 0,
        stand + (blocks.ring[index] ? 0 : geometry.backer_mm),
        blocks.width_mm[index] ?? 0,
        blocks.height_mm[index] ?? 0,
        (blocks.tall_mm[index] ?? 0) + (blocks.ring[index] ? geometry.backer_mm : 0),
      ],
      index * 6,
    )
    colours.set(shades[blocks.shade[index] ?? 0] ?? [0.5, 0.5, 0.5], index * 3)
  }
  return {
    count,
    boxes,
    colours,
    wall: {
      width: geometry.wall.width_mm,
      height: geometry.wall.height_mm,
      colour: geometry.wall.colour,
    },
    backers: geometry.leaves.map((leaf) =>
      solid(leaf.backer, stand, stand + geometry.backer_mm, geometry.ground_colour),
    ),
    parts: partsOf(geometry),
    fixtures: geometry.fixtures.map((box) => solid(box, 0, box.proud_mm, FIXTURE)),
    furniture: geometry.furniture.map((box) => solid(box, box.near_mm, box.far_mm, FURNITURE)),
    piece: roomOf(boxes, count, geometry),
  }
}

/**
 * Every part with its way apart. Parts that lie over one another go to layers of their own; those side by side move away
 * from the middle of their leaf. What stays on the wall stays near it.
 */
export function partsOf(geometry: Pick<PlanView["geometry"], "solids" | "leaves">): Part[] {
  return geometry.solids.map((one) => {
    const others = geometry.solids.filter((other) => other.leaf === one.leaf && other.moves === one.moves)
    const backs = [...new Set(others.map((other) => other.back_mm))].sort((a, b) => a - b)
    const rank = backs.indexOf(one.back_mm) / Math.max(1, backs.length - 1)
    const backer = geometry.leaves[one.leaf]?.backer
    return {
      ...solid(one, one.back_mm, one.front_mm, one.kind === "lipping" ? LIPPING : STRIP),
      name: one.name,
      number: one.number,
      moves: one.moves,
      edges: [
        one.edges_mm[0] - one.y_mm,
        one.edges_mm[1] - one.y_mm,
        one.edges_mm[2] - one.y_mm,
        one.edges_mm[3] - one.y_mm,
      ],
      apart: {
        x: backer ? away(one.x_mm, one.width_mm, backer.x_mm, backer.width_mm) : 0,
        y: backer ? away(one.y_mm, one.height_mm, backer.y_mm, backer.height_mm) : 0,
        layer: one.moves ? NEAREST + (1 - NEAREST) * rank : ON_THE_WALL * rank,
      },
    }
  })
}

/** How far a part goes from the middle of its leaf, along one axis; none where it lies across the middle. */
function away(low: number, size: number, leafLow: number, leafSize: number): number {
  const off = low + size / 2 - leafLow - leafSize / 2
  return Math.abs(off) < 0.02 * leafSize ? 0 : Math.sign(off) * SIDEWAYS_MM
}

/** Whether two scenes have the same blocks in the same places, so that one can become the other without rebuilding. */
export function sameGrid(a: Scene, b: Scene): boolean {
  return a.count === b.count
}

export function rgb(code: string): [number, number, number] {
  const number = Number.parseInt(code.replace("#", ""), 16)
  return [((number >> 16) & 255) / 255, ((number >> 8) & 255) / 255, (number & 255) / 255]
}

function solid(box: Box, back_mm: number, front_mm: number, colour: string): Solid {
  return {
    x: box.x_mm,
    y: box.y_mm,
    z: back_mm,
    width: box.width_mm,
    height: box.height_mm,
    depth: front_mm - back_mm,
    colour,
  }
}

function roomOf(boxes: Float32Array, count: number, geometry: PlanView["geometry"]): Room {
  const { outline } = geometry
  let front = geometry.stand_off_mm + geometry.backer_mm
  for (let at = 0; at < count * 6; at += 6)
    front = Math.max(front, (boxes[at + 2] ?? 0) + (boxes[at + 5] ?? 0))
  return {
    min: { x: outline.x_mm, y: outline.y_mm, z: 0 },
    max: { x: outline.x_mm + outline.width_mm, y: outline.y_mm + outline.height_mm, z: front },
  }
}
