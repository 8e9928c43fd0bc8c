// Words of the brief that have a fixed set; a test holds them to the server's own lists.
export const FIXTURE_KINDS = [
  "thermostat",
  "chime",
  "keypad",
  "router",
  "electrical enclosure",
  "meter",
  "heating manifold",
  "valve box",
  "cable box",
  "socket or switch",
  "hatch",
  "chimney cleanout",
  "supply grille",
  "return grille",
  "fuel-burning appliance",
  "other",
] as const
export const FURNITURE_KINDS = [
  "bed",
  "sofa",
  "bench",
  "table",
  "counter",
  "desk",
  "cabinet",
  "shelf",
  "other",
] as const
export const WALL_BUILDS = ["timber studs", "metal studs", "masonry"] as const
export const BELOW = ["none", "bed", "seat"] as const
export const RUN_KINDS = ["cable", "pipe", "duct"] as const
export const FOUND_BY = ["seen", "detector", "drawing", "told"] as const
export const HOMES = [
  "left",
  "right",
  "top",
  "bottom",
  "upper left",
  "upper right",
  "lower left",
  "lower right",
  "middle",
  "rim",
  "between",
] as const
export const FADE_SHAPES = ["path", "free", "bands"] as const
