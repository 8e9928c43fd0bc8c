import { defineConfig } from "vite"

// The page of bench/scene.py: our scene and a bare instanced mesh in one browser.
export default defineConfig({
  root: "bench",
  base: "./",
  build: {
    target: "es2022",
    outDir: "../dist/bench",
    emptyOutDir: true,
    rollupOptions: { input: "bench/scene.html" },
  },
})
