// Small things that a browser remembers for its maker: the last piece, unit and ground. Nothing is lost without them.
export function recall(name: string): string | null {
  try {
    return localStorage.getItem(`bossage.${name}`)
  } catch {
    return null
  }
}

export function keep(name: string, value: string): void {
  try {
    localStorage.setItem(`bossage.${name}`, value)
  } catch {
    // A browser that forbids storage works all the same.
  }
}
