// The five answers as they are typed, and which of them are still open. What they mean is the server's to say.
import type { Unit } from "../api/types"

export type Question = "wall" | "fixture" | "where" | "blocks" | "colours"

export interface Answers {
  unit: Unit
  name: string
  wall: { width: string; height: string; build: string }
  fixture: { kind: string; width: string; height: string; proud: string }
  where: { x: string; y: string }
  blocks: { width: string; height: string; levels: string }
  colours: { name: string; colour: string }[]
}

export function blank(unit: Unit): Answers {
  return {
    unit,
    name: "",
    wall: { width: "", height: "", build: "timber studs" },
    fixture: { kind: "hatch", width: "", height: "", proud: "" },
    where: { x: "", y: "" },
    blocks: { width: "", height: "", levels: "" },
    colours: [
      { name: "moss", colour: "#5f7a55" },
      { name: "clay", colour: "#b58e6f" },
    ],
  }
}

/** Fields that must be answered and are not, in the order of the questions. */
export function missing(form: Answers): string[] {
  const needed: [string, string][] = [
    ["wall.width", form.wall.width],
    ["wall.height", form.wall.height],
    ["fixture.width", form.fixture.width],
    ["fixture.height", form.fixture.height],
    ["fixture.proud", form.fixture.proud],
    ["where.x", form.where.x],
    ["where.y", form.where.y],
    ["blocks.width", form.blocks.width],
    ["blocks.height", form.blocks.height],
  ]
  return needed.filter(([, text]) => text.trim() === "").map(([field]) => field)
}

/** What is sent: lengths as typed, levels one by one; an empty second colour is left out. */
export function answers(form: Answers): unknown {
  const levels = form.blocks.levels
    .split(/[,;]/)
    .map((part) => part.trim())
    .filter(Boolean)
  return {
    unit: form.unit,
    name: form.name.trim(),
    wall: form.wall,
    fixture: form.fixture,
    where: form.where,
    blocks: { width: form.blocks.width, height: form.blocks.height, levels },
    colours: form.colours.filter((one) => one.name.trim() !== ""),
  }
}
