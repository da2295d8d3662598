/**
 * Pages ask the very modules of the process that renders them, in the place of copies in the bundle: what was worked
 * out, or said of a record, while a collection was read and judged is known to its pages, and is worked out once.
 */
import { relative, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import type { AstroIntegration } from "astro";

/** What the bundler asks for the modules of pages by. */
type Plugins = NonNullable<
  Parameters<Parameters<NonNullable<AstroIntegration["hooks"]["astro:config:setup"]>>[0]["updateConfig"]>[0]["vite"]
>["plugins"];

/** Modules that Node runs as they are: all but pages and their frames, which only Astro can read. */
const IS_OWN = /^src[\\/](?!pages[\\/]|layouts[\\/]).+[\\/][^\\/]+\.ts$/;

/** The bundler's plugin that leaves the modules of the program at `root` where they are, but for browsers. */
export function ownModules(root: string): NonNullable<Plugins>[number] {
  return {
    name: "rerig-own-modules",
    enforce: "pre",
    applyToEnvironment: ({ name }) => name !== "client",
    resolveId(source, importer) {
      if (!importer || !/^\.{1,2}\//.test(source)) return null;
      const file = resolve(importer.split("?")[0]!, "..", source);
      return IS_OWN.test(relative(root, file)) ? { id: pathToFileURL(file).href, external: "absolute" } : null;
    },
  };
}
