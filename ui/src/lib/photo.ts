// The photo of the wall: sent once, marked with four points, given back with the piece hung on it.
import { fetchBlob, hand, put } from "../api/client"
import type { Photo } from "../api/types"

export interface Point {
  x: number
  y: number
}
export interface Marks {
  points: [number, number][]
  places?: [string, string][]
  fixture?: number
}

export async function sent(piece_id: string, file: Blob): Promise<Photo> {
  return hand<Photo>(`/api/pieces/${piece_id}/photos`, file)
}

/** Hang the piece on a marked photo; an address of the picture, for an image or a download. */
export async function hung(photo_id: string, marks: Marks, revision_n: number): Promise<string> {
  await put<Photo>(`/api/photos/${photo_id}/marks`, marks)
  return URL.createObjectURL(await fetchBlob(`/api/pictures/${photo_id}.png?revision_n=${revision_n}`))
}

export function photoUrl(photo: Photo): string {
  return `/api/photos/${photo.photo_id}.jpg`
}

/** Four points to begin with: a rectangle in the middle of the photo, clockwise from the upper left. */
export function startingPoints(width_px: number, height_px: number): Point[] {
  return [
    [0.35, 0.35],
    [0.65, 0.35],
    [0.65, 0.65],
    [0.35, 0.65],
  ].map(([x = 0, y = 0]) => ({ x: Math.round(x * width_px), y: Math.round(y * height_px) }))
}

/** What is sent: the corners of a fixture, or places as they were typed. */
export function marksOf(points: readonly Point[], fixture: number | null, places: [string, string][]): Marks {
  const marked = points.map(({ x, y }): [number, number] => [x, y])
  return fixture === null ? { points: marked, places } : { points: marked, fixture }
}

/** A point moved by so much, kept on the photo. */
export function nudged(point: Point, by: Point, width_px: number, height_px: number): Point {
  const keep = (value: number, most: number) => Math.min(most, Math.max(0, value))
  return { x: keep(point.x + by.x, width_px), y: keep(point.y + by.y, height_px) }
}
