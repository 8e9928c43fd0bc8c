// Reads GLB files named on the command line with the Khronos validator and prints what it says of them, as JSON.
import { createRequire } from 'node:module'
import { readFileSync } from 'node:fs'

const { validateBytes } = createRequire(new URL('../../ui/package.json', import.meta.url))('gltf-validator')
const said = {}
for (const path of process.argv.slice(2)) {
  said[path] = (await validateBytes(new Uint8Array(readFileSync(path)))).issues
}
console.log(JSON.stringify(said))
