import { svelte } from "@sveltejs/vite-plugin-svelte"
import { defineConfig } from "vitest/config"

export default defineConfig({
  plugins: [svelte()],
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
