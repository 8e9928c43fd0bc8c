// What the piece in 3D is built of: materials, single boxes, and how one instance of the blocks is placed and painted.
import {
  BoxGeometry,
  Color,
  type Group,
  type InstancedMesh,
  Matrix4,
  Mesh,
  MeshLambertMaterial,
  SRGBColorSpace,
} from "three"
import type { Part, Solid } from "./lib/scene"

const ARRIS_MM = 1.4

const matrix = new Matrix4()
const colour = new Color()

export function place(mesh: InstancedMesh, index: number, boxes: Float32Array, depth: number): void {
  const [x = 0, y = 0, z = 0, width = 1, height = 1] = boxes.subarray(index * 6, index * 6 + 5)
  matrix.makeScale(width, height, Math.max(0.01, depth))
  matrix.setPosition(x + width / 2, y + height / 2, z + depth / 2)
  mesh.setMatrixAt(index, matrix)
}

export function paint(mesh: InstancedMesh, index: number, colours: Float32Array): void {
  const [red = 0, green = 0, blue = 0] = colours.subarray(index * 3, index * 3 + 3)
  mesh.setColorAt(index, colour.setRGB(red, green, blue, SRGBColorSpace))
}

export function differ(a: Float32Array, b: Float32Array, from: number, size: number): boolean {
  for (let at = from; at < from + size; at++) if (a[at] !== b[at]) return true
  return false
}

/** Paint that scatters light evenly, with a broken edge drawn by the shader: real millimetres whatever the block's size. */
export function blockMaterial(): MeshLambertMaterial {
  const material = new MeshLambertMaterial({ color: 0xffffff })
  material.onBeforeCompile = (shader) => {
    shader.vertexShader = shader.vertexShader
      .replace(
        "#include <common>",
        "#include <common>\nvarying vec3 vAt;\nvarying vec3 vHalf;\nvarying vec3 vFacing;",
      )
      .replace(
        "#include <begin_vertex>",
        `#include <begin_vertex>
         vec3 size = vec3(length(instanceMatrix[0].xyz), length(instanceMatrix[1].xyz), length(instanceMatrix[2].xyz));
         vAt = position * size;
         vHalf = size * 0.5;
         vFacing = normal;`,
      )
    shader.fragmentShader = shader.fragmentShader
      .replace(
        "#include <common>",
        "#include <common>\nvarying vec3 vAt;\nvarying vec3 vHalf;\nvarying vec3 vFacing;\nuniform mat3 normalMatrix;",
      )
      .replace(
        "#include <normal_fragment_maps>",
        `#include <normal_fragment_maps>
         if (vFacing.z > 0.5) {
           vec2 edge = vHalf.xy - abs(vAt.xy);
           vec2 broken = 1.0 - smoothstep(0.0, ${ARRIS_MM.toFixed(2)}, edge);
           normal = normalize(normal + normalMatrix * vec3(sign(vAt.xy) * broken * 0.9, 0.0));
         }`,
      )
      .replace(
        "#include <color_fragment>",
        `#include <color_fragment>
         if (vFacing.z < 0.5) {
           // Less soft light reaches down between blocks.
           diffuseColor.rgb *= mix(0.72, 1.0, smoothstep(0.0, 1.0, (vAt.z + vHalf.z) / max(1.0, 2.0 * vHalf.z)));
         }`,
      )
  }
  return material
}

export function flat(code: string): MeshLambertMaterial {
  return new MeshLambertMaterial({ color: new Color(code) })
}

export function box(solid: Solid, casts: boolean): Mesh {
  const depth = Math.max(1, solid.depth)
  const made = new Mesh(new BoxGeometry(solid.width, solid.height, depth), flat(solid.colour))
  made.position.set(solid.x + solid.width / 2, solid.y + solid.height / 2, solid.z + depth / 2)
  made.castShadow = casts
  made.receiveShadow = true
  return made
}

/** A part as its cross-section has it: its lower and upper edge may lie elsewhere at the back than at the front. */
export function solid(part: Part): Mesh {
  const made = box(part, true)
  const at = made.geometry.attributes.position
  if (!at) return made
  const [backLow, backHigh, frontLow, frontHigh] = part.edges
  for (let corner = 0; corner < at.count; corner++) {
    const front = at.getZ(corner) > 0
    const upper = at.getY(corner) > 0
    const edge = front ? (upper ? frontHigh : frontLow) : upper ? backHigh : backLow
    at.setY(corner, edge - part.height / 2)
  }
  made.geometry.computeVertexNormals()
  return made
}

export function empty(group: Group): void {
  for (const child of [...group.children]) {
    group.remove(child)
    if (child instanceof Mesh) {
      child.geometry.dispose()
      ;(child.material as MeshLambertMaterial).dispose()
    }
  }
}
