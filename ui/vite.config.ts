import { svelte } from "@sveltejs/vite-plugin-svelte"
import type { Plugin } from "vite"
import { defineConfig } from "vitest/config"

/** Writes down which packages have code in the page, so that the build can carry their notices. */
const packagesInPage = (): Plugin => ({
  name: "packages-in-page",
  generateBundle(_, bundle) {
    const names = new Set<string>()
    for (const one of Object.values(bundle)) {
      if (one.type !== "chunk") continue
      for (const id of Object.keys(one.modules)) {
        const name = /.*\/node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(id)?.[1]
        if (name !== undefined) names.add(name)
      }
    }
    this.emitFile({ type: "asset", fileName: "packages.json", source: JSON.stringify([...names].sort()) })
  },
})

export default defineConfig({
  plugins: [svelte(), packagesInPage()],
  base: "/",
  build: {
    target: "es2022",
    // Nothing is inlined: the page's content policy allows no data URLs for fonts and scripts.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    // three.js is its own lazy chunk, known to be large.
    chunkSizeWarningLimit: 700,
    emptyOutDir: true,
  },
  server: { proxy: { "/api": "http://127.0.0.1:8477" } },
  test: { include: ["tests/**/*.test.ts"], environment: "node" },
})
