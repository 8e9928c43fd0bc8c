// Saying a length where the server sent only millimetres: what is drawn and dragged, never what is worked out.
import type { Unit } from "../api/types"

/** As the papers say it: whole tenths of a millimetre, or inches to the nearest 1/32. */
export function length(mm: number, unit: Unit, withUnit = true): string {
  const text = unit === "mm" ? String(Math.round(mm * 10) / 10) : inches(mm / 25.4)
  return withUnit ? `${text} ${unit}` : text
}

export function size(width_mm: number, height_mm: number, unit: Unit): string {
  return `${length(width_mm, unit, false)} × ${length(height_mm, unit)}`
}

function inches(value: number): string {
  const parts = Math.round(Math.abs(value) * 32)
  const whole = Math.floor(parts / 32)
  let over = parts % 32
  let under = 32
  while (over > 0 && over % 2 === 0) {
    over /= 2
    under /= 2
  }
  const sign = value < 0 && parts > 0 ? "−" : ""
  if (over === 0) return `${sign}${whole}`
  return `${sign}${whole > 0 ? `${whole}-` : ""}${over}/${under}`
}
