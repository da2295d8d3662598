/**
 * Lets Astro render the background pages of a collection wherever it lies: MDX from outside `src/`, as one virtual
 * module.
 */
import { join, resolve, sep } from "node:path";
import { siteUnderWay } from "../under-way.ts";

/** Module that a page imports: `readings` gives the loader of each MDX file by `platform/id`. */
const NAME = "virtual:rerig-readings";
const RESOLVED = `\0${NAME}`;

/** The part of Vite's plugin that is used here. */
interface Plugin {
  readonly name: string;
  readonly enforce: "pre";
  resolveId(
    this: { resolve(source: string, importer: string, options: { skipSelf: boolean }): Promise<unknown> },
    source: string,
    importer: string | undefined,
  ): Promise<unknown> | string | undefined;
  load(id: string): string | undefined;
}

/**
 * The plugin for astro.config. What an MDX file of the collection imports from packages is found in this project, since
 * the collection has no packages of its own.
 */
export function readingsPlugin(): Plugin {
  const here = join(resolve(import.meta.dirname, "../../.."), "package.json");
  return {
    name: "rerig-readings",
    enforce: "pre",
    resolveId(source, importer) {
      if (source === NAME) return RESOLVED;
      if (!importer || /^[./\0]/.test(source) || !isInside(siteUnderWay().folder, importer)) return undefined;
      return this.resolve(source, here, { skipSelf: true });
    },
    load(id) {
      if (id !== RESOLVED) return undefined;
      const { collection, folder } = siteUnderWay();
      const entries = collection.platforms
        .flatMap(({ readings }) => readings)
        .map(
          (reading) =>
            `${JSON.stringify(`${reading.platform}/${reading.id}`)}: () => ` +
            `import(${JSON.stringify(resolve(folder, reading.file))})`,
        );
      return `export const readings = {\n${entries.join(",\n")}\n};`;
    },
  };
}

function isInside(folder: string, file: string): boolean {
  const clean = file.split("?")[0]!;
  return clean.startsWith(resolve(folder) + sep);
}
