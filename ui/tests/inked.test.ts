import { describe, expect, it } from "vitest"
import { inked } from "../src/lib/inked"

describe("a drawing of the server on the page", () => {
  it("lies on the page's own paper and leaves a white shade white", () => {
    const drawn = inked('<svg><rect fill="#fff"/><rect fill="#ffffff"/><path stroke="#251f1b"/></svg>')
    expect(drawn).toContain('fill="var(--paper)"')
    expect(drawn).toContain('fill="#ffffff"')
    expect(drawn).toContain('stroke="var(--ink)"')
  })
})
