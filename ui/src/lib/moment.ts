// When something was saved, as this computer says dates.
export function moment(utc: string): string {
  const at = new Date(utc)
  if (Number.isNaN(at.getTime())) return utc
  return new Intl.DateTimeFormat(undefined, { dateStyle: "medium", timeStyle: "short" }).format(at)
}
