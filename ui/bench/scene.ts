// Frames of our scene beside those of a bare instanced mesh: as many boxes, the same places, colours, lens and canvas.
import {
  BoxGeometry,
  Color,
  DirectionalLight,
  HemisphereLight,
  InstancedMesh,
  Matrix4,
  MeshLambertMaterial,
  PCFShadowMap,
  PerspectiveCamera,
  Scene as Stage,
  WebGLRenderer,
} from "three"
import { standOf } from "../src/lib/orbit"
import type { Scene } from "../src/lib/scene"
import { Relief } from "../src/relief"

export interface Timed {
  ours_ms: number[]
  bare_ms: number[]
  bare_shadows_ms: number[]
}

function sceneOf(count: number): Scene {
  const columns = Math.ceil(Math.sqrt(count * 1.6))
  const boxes = new Float32Array(count * 6)
  const colours = new Float32Array(count * 3)
  for (let at = 0; at < count; at++) {
    const [x, y] = [(at % columns) * 20, Math.floor(at / columns) * 20]
    // A hash, not a random number, so that both runs draw the same.
    const level = (Math.imul(at + 1, 2654435761) >>> 29) % 6
    boxes.set([x, y, 36, 20, 20, 18 + 4 * level], at * 6)
    colours.set([0.4 + 0.1 * level, 0.5, 0.35], at * 3)
  }
  const width = columns * 20
  const height = Math.ceil(count / columns) * 20
  return {
    count,
    boxes,
    colours,
    wall: { width: width * 2, height: height * 2, colour: "#e8e2d6" },
    backers: [],
    parts: [],
    fixtures: [],
    furniture: [],
    piece: { min: { x: 0, y: 0, z: 0 }, max: { x: width, y: height, z: 80 } },
  }
}

class Bare {
  readonly #renderer: WebGLRenderer
  readonly #stage = new Stage()
  readonly #camera: PerspectiveCamera

  constructor(canvas: HTMLCanvasElement, scene: Scene, width: number, height: number, shadows: boolean) {
    this.#renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true, preserveDrawingBuffer: true })
    this.#renderer.setPixelRatio(1)
    this.#renderer.setSize(width, height, false)
    this.#renderer.shadowMap.enabled = shadows
    this.#renderer.shadowMap.type = PCFShadowMap
    this.#renderer.shadowMap.autoUpdate = false
    this.#renderer.shadowMap.needsUpdate = true
    const mesh = new InstancedMesh(new BoxGeometry(1, 1, 1), new MeshLambertMaterial(), scene.count)
    mesh.castShadow = mesh.receiveShadow = shadows
    mesh.frustumCulled = false
    const [matrix, colour] = [new Matrix4(), new Color()]
    for (let at = 0; at < scene.count; at++) {
      const [x = 0, y = 0, z = 0, w = 1, h = 1, d = 1] = scene.boxes.subarray(at * 6, at * 6 + 6)
      matrix.makeScale(w, h, d).setPosition(x + w / 2, y + h / 2, z + d / 2)
      mesh.setMatrixAt(at, matrix)
      const [r = 0, g = 0, b = 0] = scene.colours.subarray(at * 3, at * 3 + 3)
      mesh.setColorAt(at, colour.setRGB(r, g, b))
    }
    const stand = standOf("front", scene.piece, width / height)
    this.#camera = new PerspectiveCamera(stand.fov_deg, width / height, 10, 100_000)
    this.#camera.position.set(stand.eye.x, stand.eye.y, stand.eye.z)
    this.#camera.lookAt(stand.target.x, stand.target.y, stand.target.z)
    const sun = new DirectionalLight(0xffffff, 2)
    const reach = Math.hypot(scene.piece.max.x, scene.piece.max.y) / 2 + 400
    sun.position.set(stand.target.x - reach, stand.target.y + reach, reach)
    sun.target.position.set(stand.target.x, stand.target.y, 0)
    sun.castShadow = shadows
    sun.shadow.mapSize.set(2048, 2048)
    Object.assign(sun.shadow.camera, {
      left: -reach,
      right: reach,
      top: reach,
      bottom: -reach,
      near: 1,
      far: reach * 4,
    })
    this.#stage.add(mesh, sun, sun.target, new HemisphereLight(0xffffff, 0xd8d8d8, 1.25))
  }

  draw(): void {
    this.#renderer.render(this.#stage, this.#camera)
  }
}

/** A frame is done when its pixels can be read, not when it was handed to the driver. */
function timed(canvas: HTMLCanvasElement, draw: () => void): number {
  const gl = canvas.getContext("webgl2")
  const pixel = new Uint8Array(4)
  const start = performance.now()
  draw()
  gl?.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel)
  return performance.now() - start
}

export function run(count: number, frames: number, width: number, height: number): Timed {
  const scene = sceneOf(count)
  const ours = document.createElement("canvas")
  const bare = document.createElement("canvas")
  const shadowed = document.createElement("canvas")
  const relief = new Relief(ours, () => true)
  relief.resize(width, height, 1)
  relief.show(scene)
  relief.light({ x: -2000, y: 3000, z: 2000 })
  relief.look(standOf("front", scene.piece, width / height), false)
  const plain = new Bare(bare, scene, width, height, false)
  const same = new Bare(shadowed, scene, width, height, true)
  const out: Timed = { ours_ms: [], bare_ms: [], bare_shadows_ms: [] }
  // Turn about, so that what else the machine does falls on all alike; the first rounds compile and fill.
  for (let n = -3; n < frames; n++) {
    const a = timed(ours, () => relief.draw())
    const b = timed(bare, () => plain.draw())
    const c = timed(shadowed, () => same.draw())
    if (n < 0) continue
    out.ours_ms.push(a)
    out.bare_ms.push(b)
    out.bare_shadows_ms.push(c)
  }
  return out
}

;(window as unknown as { run: typeof run }).run = run
