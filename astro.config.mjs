/**
 * How Astro renders the pages: static, into the folder that the build names; everything else of a build is in
 * src/build/build.ts.
 */
import { resolve } from "node:path";
import { defineConfig } from "astro/config";
import { unified } from "@astrojs/markdown-remark";
import mdx from "@astrojs/mdx";
import remarkDirective from "remark-directive";
import { makeSite } from "./src/site/site.ts";
import { isUnderWay, renderFrom } from "./src/site/under-way.ts";
import { today } from "./src/site/today.ts";
import { openCollection } from "./src/build/open-collection.ts";
import { readingDirectives } from "./src/site/text/reading-directives.ts";
import { readingsPlugin } from "./src/site/text/readings.ts";

/** Lets `astro dev` and `astro build` run by themselves, over `RERIG_PROCEDURES` (default `./procedures`). */
const beginSite = {
  name: "rerig",
  hooks: {
    "astro:config:done": async () => {
      const folder = process.env.RERIG_PROCEDURES ?? "procedures";
      if (!isUnderWay()) renderFrom(makeSite(resolve(folder), await openCollection(folder), today()));
    },
  },
};

export default defineConfig({
  output: "static",
  outDir: process.env.RERIG_OUT ?? "./dist",
  cacheDir: "./node_modules/.cache/astro",
  trailingSlash: "always",
  // No inlined styles or scripts: the site's policy (`src/build/serve.ts`) forbids them.
  build: { format: "directory", inlineStylesheets: "never" },
  // Keeps the blank between two words when a line ends there.
  compressHTML: true,
  // What an author wrote is shown letter by letter: no other quotes or dashes are put in.
  integrations: [
    beginSite,
    mdx({ processor: unified({ remarkPlugins: [remarkDirective, readingDirectives], smartypants: false }) }),
  ],
  image: { service: { entrypoint: "astro/assets/services/noop" } },
  devToolbar: { enabled: false },
  vite: {
    plugins: [readingsPlugin()],
    build: { assetsInlineLimit: 0 },
    ssr: { external: ["sharp", "esbuild", "pagefind"] },
  },
});
