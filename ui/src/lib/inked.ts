// A drawing of the server, made to lie on this page: its inks take the page's, and its names do not clash with others.
const INKS: [RegExp, string][] = [
  [/#251f1b/gi, "var(--ink)"],
  [/#6f6863/gi, "var(--quiet)"],
  [/#d04127/gi, "var(--pencil-line)"],
  [/"#fff"/g, '"var(--paper)"'],
]

/** The drawing without title, description and names, which stand beside it; empty if it is not an SVG. */
export function inked(svg: string): string {
  const start = svg.indexOf("<svg")
  if (start < 0) return ""
  let text = svg
    .slice(start)
    .replace(/<title[^>]*>[^]*?<\/title>/, "")
    .replace(/<desc[^>]*>[^]*?<\/desc>/, "")
    .replace(/ (role|aria-labelledby|id)="[^"]*"/g, "")
  for (const [ink, ours] of INKS) text = text.replace(ink, ours)
  return text
}
