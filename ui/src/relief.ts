// The piece in 3D: every block an instance of one mesh, drawn only when something changed. Knows three.js and nothing of
// the page round it: scene and stands in, pictures and picked blocks out. Millimetres, axes as on the wall.
import {
  BoxGeometry,
  BufferAttribute,
  BufferGeometry,
  Color,
  DirectionalLight,
  Group,
  HemisphereLight,
  InstancedMesh,
  LineBasicMaterial,
  LineSegments,
  Mesh,
  MeshLambertMaterial,
  PCFShadowMap,
  PerspectiveCamera,
  PlaneGeometry,
  Raycaster,
  Scene as Stage,
  SRGBColorSpace,
  Vector2,
  Vector3,
  WebGLRenderer,
} from "three"
import { between, type Room, type Stand } from "./lib/orbit"
import type { Part, Scene } from "./lib/scene"
import { blockMaterial, box, differ, empty, flat, paint, place, solid } from "./meshes"

export interface Place {
  x: number
  y: number
  z: number
}

const MOVE_MS = 180
const SHADOW_PX = 2048
const BACK_STEPS = 0.8 // of the way between two layers, to the last part before the backer
// Soft light of the room. The sun is given what is left, so that a face square to the wall and in full light has exactly
// the colour of its paint: three.js then needs lights that add up to pi.
const SOFT = 1.25
const SOFT_IN_FRONT = SOFT * 0.92

const ease = (share: number): number => 1 - (1 - share) ** 3

export class Relief {
  /** how often all instances were made anew; an edit of a block must not raise it */
  built = 0
  drawn = 0
  readonly #renderer: WebGLRenderer
  readonly #stage = new Stage()
  readonly #camera = new PerspectiveCamera(24, 1, 10, 100_000)
  readonly #sun = new DirectionalLight(0xffffff, 2)
  readonly #soft = new HemisphereLight(0xffffff, 0xd8d8d8, SOFT)
  readonly #room = new Group()
  readonly #parts = { back: new Group(), backers: new Group() }
  #moved: { part: Part; mesh: Mesh; x: number; y: number; z: number }[] = []
  readonly #frames = new Map<string, LineSegments<BufferGeometry, LineBasicMaterial>>()
  readonly #still: () => boolean
  #blocks: InstancedMesh<BufferGeometry, MeshLambertMaterial> | null = null
  #scene: Scene | null = null
  #stand: Stand | null = null
  #apart = 0
  #asked = 0
  #moves = new Set<(now: number) => boolean>()
  #walk: ((now: number) => boolean) | null = null
  #light: Place = { x: 0, y: 0, z: 1 }
  onframe: () => void = () => {}

  /** `still` says whether the system asks for no movement. */
  constructor(canvas: HTMLCanvasElement, still: () => boolean) {
    this.#still = still
    this.#renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true, preserveDrawingBuffer: true })
    this.#renderer.outputColorSpace = SRGBColorSpace
    this.#renderer.shadowMap.enabled = true
    this.#renderer.shadowMap.type = PCFShadowMap
    this.#renderer.shadowMap.autoUpdate = false
    this.#sun.castShadow = true
    this.#sun.shadow.mapSize.set(SHADOW_PX, SHADOW_PX)
    this.#sun.shadow.radius = 3
    this.#stage.add(this.#soft, this.#sun, this.#sun.target, this.#room)
    this.#stage.add(this.#parts.back, this.#parts.backers)
  }

  /** Show a scene. Blocks that stay in number are changed in place; only another number of blocks builds anew. */
  show(scene: Scene): void {
    const before = this.#scene
    this.#scene = scene
    if (!before || before.count !== scene.count || !this.#blocks) this.#build(scene)
    else this.#change(this.#blocks, before, scene)
    this.#furnish(scene)
    this.#aimLight()
    this.#shade()
  }

  resize(width_px: number, height_px: number, ratio: number): void {
    this.#renderer.setPixelRatio(Math.min(2, ratio))
    this.#renderer.setSize(width_px, height_px, false)
    this.#camera.aspect = width_px / Math.max(1, height_px)
    this.#camera.updateProjectionMatrix()
    this.ask()
  }

  get aspect(): number {
    return this.#camera.aspect
  }

  get stand(): Stand | null {
    return this.#stand
  }

  /** Go to a stand, walking there unless the system asks for stillness. */
  look(to: Stand, walk = true): void {
    const from = this.#stand
    this.#walk = null
    if (!from || !walk || this.#still()) {
      this.#take(to)
      return
    }
    const start = performance.now()
    this.#walk = (now) => {
      const share = Math.min(1, (now - start) / MOVE_MS)
      this.#take(between(from, to, ease(share)))
      return share < 1
    }
    this.ask()
  }

  /** Light comes from this place, which may lie far outside the wall. */
  light(from: Place): void {
    this.#light = from
    this.#aimLight()
    this.#shade()
  }

  /** 0 is put together, 1 has every part, backers and blocks well apart. */
  takeApart(share: number): void {
    const from = this.#apart
    const start = performance.now()
    const go = (now: number): boolean => {
      const done = this.#still() ? 1 : Math.min(1, (now - start) / MOVE_MS)
      this.#apart = from + (share - from) * ease(done)
      const step = this.#layerStep() * this.#apart
      this.#spread()
      this.#parts.backers.position.z = step * 1.25
      if (this.#blocks) this.#blocks.position.z = step * 2.25
      for (const frame of this.#frames.values()) frame.position.z = step * 2.25
      this.#aimLight()
      this.#renderer.shadowMap.needsUpdate = true
      return done < 1
    }
    this.#moves.add(go)
    this.ask()
  }

  /** Every part where it is now, between its place and its place apart. */
  #spread(): void {
    const step = this.#layerStep() * BACK_STEPS
    for (const { part, mesh, x, y, z } of this.#moved)
      mesh.position.set(
        x + part.apart.x * this.#apart,
        y + part.apart.y * this.#apart,
        z + part.apart.layer * step * this.#apart,
      )
  }

  /** Room of the piece as it stands now, layers apart or not. */
  bounds(): Room | null {
    if (!this.#scene) return null
    const { min, max } = this.#scene.piece
    return { min, max: { ...max, z: max.z + this.#layerStep() * 2.25 * (this.#apart > 0 ? 1 : 0) } }
  }

  /** What the piece will take up when taken apart this far. */
  boundsApart(): Room | null {
    if (!this.#scene) return null
    const { min, max } = this.#scene.piece
    return { min, max: { ...max, z: max.z + this.#layerStep() * 2.25 } }
  }

  /** The block under a point of the canvas, both from -1 to 1 with y up; null where there is none. */
  pick(x: number, y: number): number | null {
    if (!this.#blocks) return null
    const ray = new Raycaster()
    ray.setFromCamera(new Vector2(x, y), this.#camera)
    return ray.intersectObject(this.#blocks, false)[0]?.instanceId ?? null
  }

  /** Where the middle of a block's face is on the canvas, from 0 to 1, y down. */
  find(block: number): { x: number; y: number } | null {
    const box = this.#box(block)
    if (!box) return null
    const [x, y, z, width, height, depth] = box
    return this.project({
      x: x + width / 2,
      y: y + height / 2,
      z: z + depth + (this.#blocks?.position.z ?? 0),
    })
  }

  project(place: Place): { x: number; y: number } {
    const seen = new Vector3(place.x, place.y, place.z).project(this.#camera)
    return { x: (seen.x + 1) / 2, y: (1 - seen.y) / 2 }
  }

  /** Draw frames round blocks: `kind` is a name of its own, `colour` what CSS knows. Null takes them away. */
  frame(kind: string, blocks: number[] | null, colour = "#d04127"): void {
    const old = this.#frames.get(kind)
    if (old) {
      this.#stage.remove(old)
      old.geometry.dispose()
      old.material.dispose()
      this.#frames.delete(kind)
    }
    if (blocks && blocks.length > 0) {
      const lines = new BufferGeometry()
      lines.setAttribute("position", new BufferAttribute(this.#edges(blocks), 3))
      const material = new LineBasicMaterial({
        color: new Color(colour),
        depthTest: kind !== "picked",
        transparent: true,
      })
      const made = new LineSegments(lines, material)
      made.position.z = this.#blocks?.position.z ?? 0
      made.renderOrder = 2
      this.#frames.set(kind, made)
      this.#stage.add(made)
    }
    this.ask()
  }

  /** Ask for one picture soon. */
  ask(): void {
    if (this.#asked) return
    this.#asked = requestAnimationFrame((now) => {
      this.#asked = 0
      if (this.#walk && !this.#walk(now)) this.#walk = null
      for (const move of [...this.#moves]) if (!move(now)) this.#moves.delete(move)
      this.draw()
      if (this.#walk || this.#moves.size > 0) this.ask()
    })
  }

  draw(): void {
    this.#renderer.render(this.#stage, this.#camera)
    this.drawn++
    this.onframe()
  }

  picture(): string {
    this.draw()
    return this.#renderer.domElement.toDataURL("image/png")
  }

  dispose(): void {
    cancelAnimationFrame(this.#asked)
    this.#moves.clear()
    for (const kind of [...this.#frames.keys()]) this.frame(kind, null)
    cancelAnimationFrame(this.#asked)
    this.#drop()
    for (const group of [this.#room, this.#parts.back, this.#parts.backers]) empty(group)
    this.#sun.shadow.map?.dispose()
    this.#renderer.dispose()
    this.#renderer.forceContextLoss()
  }

  #drop(): void {
    if (!this.#blocks) return
    this.#stage.remove(this.#blocks)
    this.#blocks.geometry.dispose()
    this.#blocks.material.dispose()
    this.#blocks.dispose()
    this.#blocks = null
  }

  #build(scene: Scene): void {
    this.#drop()
    const mesh = new InstancedMesh(new BoxGeometry(1, 1, 1), blockMaterial(), Math.max(1, scene.count))
    mesh.count = scene.count
    mesh.castShadow = true
    mesh.receiveShadow = true
    mesh.frustumCulled = false
    this.#blocks = mesh
    this.#stage.add(mesh)
    for (let index = 0; index < scene.count; index++) {
      place(mesh, index, scene.boxes, scene.boxes[index * 6 + 5] ?? 0)
      paint(mesh, index, scene.colours)
    }
    mesh.position.z = this.#layerStep() * 2.25 * this.#apart
    this.built++
  }

  #change(mesh: InstancedMesh, before: Scene, scene: Scene): void {
    const moved: number[] = []
    for (let index = 0; index < scene.count; index++) {
      if (differ(before.colours, scene.colours, index * 3, 3)) paint(mesh, index, scene.colours)
      if (differ(before.boxes, scene.boxes, index * 6, 6)) moved.push(index)
    }
    if (mesh.instanceColor) mesh.instanceColor.needsUpdate = true
    if (moved.length === 0) return
    if (this.#still()) {
      for (const index of moved) place(mesh, index, scene.boxes, scene.boxes[index * 6 + 5] ?? 0)
      this.#touched(mesh)
      return
    }
    const start = performance.now()
    this.#moves.add((now) => {
      const share = Math.min(1, (now - start) / MOVE_MS)
      for (const index of moved) {
        const was = before.boxes[index * 6 + 5] ?? 0
        const will = scene.boxes[index * 6 + 5] ?? 0
        place(mesh, index, scene.boxes, was + (will - was) * ease(share))
      }
      this.#touched(mesh)
      return share < 1
    })
  }

  #touched(mesh: InstancedMesh): void {
    mesh.instanceMatrix.needsUpdate = true
    mesh.boundingSphere = null
    this.#renderer.shadowMap.needsUpdate = true
  }

  #furnish(scene: Scene): void {
    for (const group of [this.#room, this.#parts.back, this.#parts.backers]) empty(group)
    const wall = new Mesh(new PlaneGeometry(scene.wall.width, scene.wall.height), flat(scene.wall.colour))
    wall.position.set(scene.wall.width / 2, scene.wall.height / 2, 0)
    wall.receiveShadow = true
    this.#room.add(wall)
    for (const solid of scene.fixtures) this.#room.add(box(solid, false))
    for (const solid of scene.furniture) this.#room.add(box(solid, false))
    this.#moved = scene.parts.map((part) => {
      const mesh = solid(part)
      mesh.name = part.name
      this.#parts.back.add(mesh)
      return { part, mesh, x: mesh.position.x, y: mesh.position.y, z: mesh.position.z }
    })
    this.#spread()
    for (const solid of scene.backers) this.#parts.backers.add(box(solid, true))
  }

  #aimLight(): void {
    if (!this.#scene) return
    const { min, max } = this.#scene.piece
    const centre = new Vector3((min.x + max.x) / 2, (min.y + max.y) / 2, 0)
    const from = new Vector3(this.#light.x, this.#light.y, Math.max(40, this.#light.z))
    const way = from.clone().sub(centre).normalize()
    this.#sun.intensity = (Math.PI - SOFT_IN_FRONT) / Math.max(0.3, way.z)
    const reach =
      Math.hypot(max.x - min.x, max.y - min.y) / 2 + 6 * max.z + this.#layerStep() * 2.25 * this.#apart
    this.#sun.target.position.copy(centre)
    this.#sun.position.copy(centre).addScaledVector(way, reach * 2)
    const camera = this.#sun.shadow.camera
    camera.left = camera.bottom = -reach
    camera.right = camera.top = reach
    camera.near = reach * 0.2
    camera.far = reach * 4
    camera.updateProjectionMatrix()
    // One texel of the map, so that a face does not shade itself.
    this.#sun.shadow.normalBias = (reach * 2) / SHADOW_PX
    this.#sun.shadow.bias = -0.0005
  }

  #shade(): void {
    this.#renderer.shadowMap.needsUpdate = true
    this.ask()
  }

  #take(stand: Stand): void {
    this.#stand = stand
    this.#camera.fov = stand.fov_deg
    this.#camera.position.set(stand.eye.x, stand.eye.y, stand.eye.z)
    this.#camera.lookAt(stand.target.x, stand.target.y, stand.target.z)
    this.#camera.updateProjectionMatrix()
    this.#camera.updateMatrixWorld()
    this.ask()
  }

  #layerStep(): number {
    if (!this.#scene) return 0
    const { min, max } = this.#scene.piece
    return Math.min(420, Math.max(90, (max.x - min.x) * 0.22))
  }

  #box(block: number): [number, number, number, number, number, number] | null {
    const boxes = this.#scene?.boxes
    if (!boxes || block < 0 || block * 6 + 5 >= boxes.length) return null
    return [...boxes.subarray(block * 6, block * 6 + 6)] as [number, number, number, number, number, number]
  }

  #edges(blocks: number[]): Float32Array {
    const lines: number[] = []
    for (const block of blocks) {
      const found = this.#box(block)
      if (!found) continue
      const [x, y, z, width, height, depth] = found
      const front = z + depth + 0.6
      const face = [
        [x, y],
        [x + width, y],
        [x + width, y + height],
        [x, y + height],
      ] as const
      face.forEach(([ax, ay], at) => {
        const [bx, by] = face[(at + 1) % 4] ?? face[0]
        // Three lines side by side: browsers draw lines one pixel wide whatever is asked.
        for (const inset of [0, 0.9, 1.8]) {
          const inward = (value: number, low: number, size: number) =>
            value === low ? value + inset : value === low + size ? value - inset : value
          lines.push(inward(ax, x, width), inward(ay, y, height), front)
          lines.push(inward(bx, x, width), inward(by, y, height), front)
        }
        lines.push(ax, ay, z, ax, ay, front)
      })
    }
    return new Float32Array(lines)
  }
}
