import { expect, it } from "vitest"
import { answers, blank, missing } from "../src/lib/answers"

const sofa = { kind: "sofa", x: "300", width: "1800", top: "800", far: "900" }

it("asks whether what stands below is moved, and how far", () => {
  const form = blank("mm")
  expect(missing(form).filter((field) => field.startsWith("below"))).toEqual([])
  Object.assign(form.below, sofa)
  expect(missing(form)).toContain("below.stays")
  form.below.stays = false
  expect(missing(form)).toContain("below.moved")
  form.below.moved = "700"
  expect(missing(form).filter((field) => field.startsWith("below"))).toEqual([])
  form.below.moved_by = " Ida "
  expect(answers(form).below).toEqual({ ...sofa, moved: "700", moved_by: "Ida" })
})

it("sends no move of what stays, and no depth that nobody measured", () => {
  const form = blank("mm")
  Object.assign(form.below, sofa, { far: " ", stays: true, moved: "700", moved_by: "Ida" })
  expect(answers(form).below).toEqual({ kind: "sofa", x: "300", width: "1800", top: "800", moved_by: "" })
})
