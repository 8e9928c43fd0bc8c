// The five answers as they are typed, and which of them are still open. What they mean is the server's to say.
import type { components } from "../api/schema"
import type { Unit } from "../api/types"

type Sent = components["schemas"]["AnswersIn"]
export type Build = Sent["wall"]["build"]
export type Question = "wall" | "hide" | "below" | "block" | "colours"
export const QUESTIONS: readonly Question[] = ["wall", "hide", "below", "block", "colours"]

export interface Answers {
  unit: Unit
  name: string
  wall: { width: string; height: string; build: Build; first_stud: string; stud_spacing: string }
  hide: { kind: string; x: string; y: string; width: string; height: string; proud: string }
  below: {
    kind: string
    x: string
    width: string
    top: string
    far: string
    stays: boolean | null
    moved: string
    moved_by: string
  }
  block: { width: string; height: string; tallest: string }
  colours: { left: string; right: string; left_name: string; right_name: string }
}

export function blank(unit: Unit): Answers {
  return {
    unit,
    name: "",
    wall: { width: "", height: "", build: "timber studs", first_stud: "", stud_spacing: "" },
    hide: { kind: "hatch", x: "", y: "", width: "", height: "", proud: "" },
    below: { kind: "", x: "", width: "", top: "", far: "", stays: null, moved: "", moved_by: "" },
    block: { width: "", height: "", tallest: "" },
    colours: { left: "#c7b994", right: "#4d5f52", left_name: "oat", right_name: "moss" },
  }
}

/** Fields that must be answered and are not, in the order of the questions. */
export function missing(form: Answers): string[] {
  const needed: [string, string][] = [
    ["name", form.name],
    ["wall.width", form.wall.width],
    ["wall.height", form.wall.height],
    ["hide.x", form.hide.x],
    ["hide.y", form.hide.y],
    ["hide.width", form.hide.width],
    ["hide.height", form.hide.height],
    ["hide.proud", form.hide.proud],
  ]
  if (form.below.kind !== "")
    needed.push(["below.x", form.below.x], ["below.width", form.below.width], ["below.top", form.below.top])
  // a lift over what stays is another lift, so nobody's guess is taken
  if (form.below.kind !== "" && form.below.stays === null) needed.push(["below.stays", ""])
  if (form.below.kind !== "" && form.below.stays === false) needed.push(["below.moved", form.below.moved])
  needed.push(
    ["block.width", form.block.width],
    ["block.height", form.block.height],
    ["block.tallest", form.block.tallest],
  )
  return needed.filter(([, text]) => text.trim() === "").map(([field]) => field)
}

/** What is sent: lengths as typed; what was left open is left out. */
export function answers(form: Answers): Sent {
  const { wall, below, colours } = form
  const studs = wall.build !== "masonry" && wall.first_stud.trim() && wall.stud_spacing.trim()
  return {
    name: form.name.trim(),
    unit: form.unit,
    wall: {
      width: wall.width,
      height: wall.height,
      build: wall.build,
      ...(studs ? { first_stud: wall.first_stud, stud_spacing: wall.stud_spacing } : {}),
    },
    hide: { ...form.hide, name: "" },
    ...(below.kind === "" ? {} : { below: beneath(below) }),
    block: form.block,
    colours,
  }
}

/** What stands below as it is sent: what stays is not moved, and a depth that nobody measured is left out. */
function beneath(below: Answers["below"]): NonNullable<Sent["below"]> {
  const { kind, x, width, top } = below
  const far = below.far.trim() === "" ? {} : { far: below.far }
  const moved =
    below.stays === false ? { moved: below.moved, moved_by: below.moved_by.trim() } : { moved_by: "" }
  return { kind, x, width, top, ...far, ...moved }
}

/** The field of the form that a fault of the brief is about. */
export function fieldOf(fault: string): string {
  const tables: [string, string][] = [
    ["fixture[1].", "hide."],
    ["furniture[1].", "below."],
    ["footprint[1].", "block."],
    ["wall.studs", "wall.first_stud"],
    ["blocks.levels", "block.tallest"],
    ["family[1].colour", "colours.left"],
    ["family[2].colour", "colours.right"],
    ["family[1].", "colours.left_"],
    ["family[2].", "colours.right_"],
    ["piece.", ""],
  ]
  const found = tables.find(([from]) => fault.startsWith(from))
  return found
    ? found[1] +
        (found[1].endsWith(".") || found[1].endsWith("_") || found[1] === ""
          ? fault.slice(found[0].length)
          : "")
    : fault
}
