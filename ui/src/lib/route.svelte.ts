// Which sheet lies on top. The address after # is the sheet, so that reload, back and a bookmark keep it.
export const STAGES = [
  "wall",
  "sizes",
  "relief",
  "fade",
  "saw",
  "paint",
  "press",
  "hang",
  "papers",
  "checks",
] as const
export type StageName = (typeof STAGES)[number]
export const ASIDE = ["pieces", "begin", "changes", "photo", "survey", "ask"] as const
export type SheetName = StageName | (typeof ASIDE)[number]

const known = new Set<string>([...STAGES, ...ASIDE])

export function sheetFrom(hash: string): SheetName {
  const name = hash.replace(/^#\/?/, "")
  return known.has(name) ? (name as SheetName) : "relief"
}

class Route {
  sheet = $state<SheetName>("relief")

  listen(): void {
    const read = () => {
      this.sheet = sheetFrom(location.hash)
    }
    read()
    addEventListener("hashchange", read)
  }

  go(sheet: SheetName): void {
    location.hash = sheet
  }
}

export const route = new Route()
