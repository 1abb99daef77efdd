import preact from "@preact/preset-vite";
import { defineConfig } from "vite";

// Where a running bench answers, for `npm run dev`.
const bench = process.env.BENCH ?? "http://127.0.0.1:7373";

export default defineConfig({
  base: "/",
  plugins: [preact({ devToolsEnabled: false })],
  server: { proxy: { "/api": { target: bench, changeOrigin: true, headers: { origin: bench } } } },
  build: {
    target: "es2022",
    assetsInlineLimit: 0,
    chunkSizeWarningLimit: 800,
    modulePreload: { polyfill: false },
    rollupOptions: {
      output: {
        // Stable names for the two large libraries, so that the budget of the rest can be read.
        manualChunks(id: string) {
          if (id.includes("/node_modules/three/")) return "three";
          if (/node_modules\/(@codemirror|@lezer|style-mod|crelt|w3c-keyname|@marijn)\//.test(id)) return "editor";
          if (id.includes("/node_modules/uplot/")) return "charts";
          return undefined;
        },
      },
    },
  },
});
