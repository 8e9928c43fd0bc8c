// Short names for what the server says and hears; the shapes are generated from its own description (make client).
import type { components } from "./schema"

type S = components["schemas"]
export type Answer = S["Answer"]
export type Blocks = S["BlocksOut"]
export type Box = S["Box"]
export type Check = S["CheckOut"] & { fix?: { fix_id: string; words: string } | null }
export type Edit = Omit<S["EditIn"], "value"> & { value?: unknown }
export type Family = S["FamilyOut"]
export type Fault = S["FaultOut"]
export type Fixture = S["FixtureOut"]
export type Furniture = S["FurnitureOut"]
export type Geometry = S["Geometry"]
export type LightOut = S["LightOut"]
export type NoPlan = S["NoPlanOut"]
export type Piece = S["PieceShort"]
export type PieceWhole = S["PieceOut"]
export type PieceRow = S["PieceLine"]
export type PlanView = S["PlanView"]
export type RevisionRow = S["RevisionLine"]
export type Session = S["Session"]
export type Shade = S["ShadeOut"]
export type Unit = "mm" | "in"
export type Verdict = S["CheckOut"]["verdict"]
export interface Tried {
  checks: Check[]
  plan?: PlanView | null
  no_plan?: NoPlan | null
}
