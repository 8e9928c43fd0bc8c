// Short names for what the server says and hears; the shapes are generated from its own description (make client).
import type { components } from "./schema"

type S = components["schemas"]
export type Answer = Omit<S["Answer"], "plan"> & { plan: PlanView | null }
export type Blocks = S["BlocksOut"]
export type Box = S["Box"]
export type Check = S["CheckOut"]
export type Edit = Omit<S["EditIn"], "value"> & { value?: unknown }
export type Family = S["FamilyOut"]
export type Fault = S["FaultOut"]
export type Fixture = S["FixtureOut"]
export type Furniture = S["FurnitureOut"]
export interface Band extends Box {
  check_id: string
  words: string
  verdict: Verdict
  /** whether it hangs on the piece and goes where the piece goes */
  moves?: boolean
}
export type Geometry = S["Geometry"] & { bands?: Band[] }
export type LightOut = S["LightOut"]
export type NoPlan = S["NoPlanOut"]
export type Piece = S["PieceShort"]
export type PieceWhole = S["PieceOut"]
export type PieceRow = S["PieceLine"]
export type PlanView = Omit<S["PlanView"], "geometry"> & { geometry: Geometry }
export type RevisionRow = S["RevisionLine"]
export type Session = S["Session"]
export type Shade = S["ShadeOut"]
export type Unit = "mm" | "in"
export type Verdict = S["CheckOut"]["verdict"]
export interface Fix {
  check_id: string
  fix_id: string
  words: string
}
export type Job = S["JobOut"]
export type Paper = S["SheetOut"]
export type Part = Paper["parts"][number]
export type Photo = S["PhotoOut"]
export type Size = S["SizeOut"]
export type Sizes = S["SizesOut"]
export type Tried = S["Tried"]
