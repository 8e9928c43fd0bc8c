// Talking to the server of this machine. Every answer is either what was asked for or a refusal in a maker's words.
import type { components } from "./schema"
import type { Fault, Unit } from "./types"

type Refused_ = components["schemas"]["Refused"]

export interface Refusal {
  status: number
  title: string
  found: string
  allowed: string
  remedy: string
  faults: Fault[]
  theirs_revision_n: number | null
  mine_revision_n: number | null
}

export class Refused extends Error {
  readonly refusal: Refusal
  constructor(refusal: Refusal) {
    super(refusal.title)
    this.refusal = refusal
  }
}

const token = (): string =>
  document.querySelector<HTMLMetaElement>('meta[name="bossage-token"]')?.content ?? ""

let unit: Unit | null = null

/** In which unit the server is to answer in words; null for the piece's own. */
export function answerIn(wanted: Unit | null): void {
  unit = wanted
}

export async function ask<T>(path: string, signal?: AbortSignal): Promise<T> {
  return read<T>(await send(path, { headers: headers(), signal: signal ?? null }))
}

export async function tell<T>(path: string, body: unknown, signal?: AbortSignal): Promise<T> {
  return write<T>("POST", path, body, signal)
}

export async function put<T>(path: string, body: unknown): Promise<T> {
  return write<T>("PUT", path, body)
}

async function write<T>(method: string, path: string, body: unknown, signal?: AbortSignal): Promise<T> {
  return read<T>(
    await send(path, {
      method,
      headers: { ...headers(), "Content-Type": "application/json" },
      body: JSON.stringify(body),
      signal: signal ?? null,
    }),
  )
}

export async function hand<T>(path: string, bytes: Blob): Promise<T> {
  const type = { "Content-Type": "application/octet-stream" }
  return read<T>(await send(path, { method: "POST", headers: { ...headers(), ...type }, body: bytes }))
}

/** A file: a picture or a paper. */
export async function fetchBlob(path: string): Promise<Blob> {
  const answer = await send(path, { headers: headers() })
  return answer.ok ? answer.blob() : read<Blob>(answer)
}

export async function strike<T>(path: string): Promise<T> {
  return read<T>(await send(path, { method: "DELETE", headers: headers() }))
}

async function send(path: string, init: RequestInit): Promise<Response> {
  try {
    return await fetch(path, { ...init, cache: "no-store" })
  } catch (error) {
    if (error instanceof DOMException && error.name === "AbortError") throw error
    throw new Refused(nothing)
  }
}

async function read<T>(answer: Response): Promise<T> {
  const text = await answer.text()
  let body: unknown = null
  try {
    body = text ? JSON.parse(text) : null
  } catch {
    body = null
  }
  if (answer.ok) return body as T
  throw new Refused(refusalFrom(answer.status, body))
}

function headers(): Record<string, string> {
  return { "X-Bossage-Token": token(), ...(unit ? { "X-Bossage-Unit": unit } : {}) }
}

export function refusalFrom(status: number, body: unknown): Refusal {
  const said = (body ?? {}) as Partial<Refused_>
  return {
    ...nothing,
    status,
    ...(said.error ?? {}),
    faults: said.faults ?? [],
    theirs_revision_n: said.conflict?.theirs_revision_n ?? null,
    mine_revision_n: said.conflict?.mine_revision_n ?? null,
  }
}

export const nothing: Refusal = {
  status: 0,
  title: "",
  found: "",
  allowed: "",
  remedy: "",
  faults: [],
  theirs_revision_n: null,
  mine_revision_n: null,
}
