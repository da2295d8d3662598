/**
 * What a file gives to others: no export that nobody takes, no name that two files export, no package that nobody uses
 * (common practice, no source; compared with the files themselves, read by the TypeScript compiler's own parser).
 */
import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import ts from "typescript";
import { describe, expect, it } from "vitest";

const root = resolve(import.meta.dirname, "..");

/** Where somebody may take an export; pages and components are taken by Astro itself, and export nothing but types. */
const SOURCES = ["src", "components", "tests", "procedures/tern/photos/_drawing"];
/** Exported to a framework, which finds them by name: Astro's endpoints, its middleware, a command's `define`. */
const BY_NAME =
  /^(?:src\/pages\/|src\/middleware\.ts|src\/commands\/[\w/-]+\.ts define$|src\/env\.d\.ts|src\/build\/virtual)/;

interface Export {
  readonly file: string;
  readonly name: string;
}

/** The script of a file: of a component its frontmatter and its own scripts, in which positions do not matter. */
function scriptOf(file: string): string {
  const text = readFileSync(join(root, file), "utf8");
  if (!file.endsWith(".astro")) return text;
  const head = /^\s*---\n([\s\S]*?)\n---/.exec(text)?.[1] ?? "";
  return [head, ...[...text.matchAll(/<script>([\s\S]*?)<\/script>/g)].map(([, script]) => script)].join("\n");
}

const files = SOURCES.flatMap((folder) =>
  readdirSync(join(root, folder), { recursive: true, encoding: "utf8" }).map((name) => `${folder}/${name}`),
)
  .concat("astro.config.mjs")
  .filter((name) => /\.(?:ts|astro|mjs)$/.test(name) && !/^tests\/fixtures\/(?:rules|text|collections)\//.test(name));

const trees = files.map((file) => ({
  file,
  tree: ts.createSourceFile(file, scriptOf(file), ts.ScriptTarget.Latest, true),
}));

const isExported = (node: ts.Node): boolean =>
  ts.canHaveModifiers(node) &&
  (ts.getModifiers(node) ?? []).some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword) &&
  !(ts.getModifiers(node) ?? []).some(({ kind }) => kind === ts.SyntaxKind.DefaultKeyword);

const exported: readonly Export[] = trees
  .filter(({ file }) => file.startsWith("src/") && file.endsWith(".ts"))
  .flatMap(({ file, tree }) =>
    tree.statements.filter(isExported).flatMap((statement) => {
      const names = ts.isVariableStatement(statement)
        ? statement.declarationList.declarations.flatMap(({ name }) =>
            ts.isIdentifier(name) ? [name.text] : name.elements.map((each) => each.getText().replace(/.*:\s*/, "")),
          )
        : [(statement as ts.DeclarationStatement).name?.text ?? ""];
      return names.map((name) => ({ file, name }));
    }),
  );

/** `file name` of everything that a file takes from another, by import, re-export or `import(…)`. */
const taken = new Set(
  trees.flatMap(({ file, tree }) => {
    const found: string[] = [];
    const take = (from: string, names: readonly string[]) => {
      if (!from.startsWith(".")) return;
      const target = relative(root, resolve(root, dirname(file), from));
      found.push(...names.map((name) => `${target} ${name}`));
    };
    const visit = (node: ts.Node): void => {
      if ((ts.isImportDeclaration(node) || ts.isExportDeclaration(node)) && node.moduleSpecifier) {
        const from = (node.moduleSpecifier as ts.StringLiteral).text;
        const named = ts.isImportDeclaration(node) ? node.importClause?.namedBindings : node.exportClause;
        if (named && (ts.isNamedImports(named) || ts.isNamedExports(named)))
          take(
            from,
            named.elements.map(({ name, propertyName }) => (propertyName ?? name).getText()),
          );
        else if (named) take(from, ["*"]);
      }
      // `import("./x.ts")` takes what is asked of it: `.name`, or `{ name } = await import(…)`.
      if (ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword) {
        const [argument] = node.arguments;
        if (argument && ts.isStringLiteral(argument)) take(argument.text, ["*"]);
      }
      if (ts.isImportTypeNode(node) && ts.isLiteralTypeNode(node.argument) && ts.isStringLiteral(node.argument.literal))
        take(node.argument.literal.text, [node.qualifier?.getText() ?? "*"]);
      ts.forEachChild(node, visit);
    };
    visit(tree);
    return found;
  }),
);
const isTaken = ({ file, name }: Export) => taken.has(`${file} ${name}`) || taken.has(`${file} *`);

describe("exports of src/", () => {
  it("are each taken by another file", () => {
    expect(exported.length).toBeGreaterThan(500);
    expect(
      exported
        .filter((each) => !isTaken(each) && !BY_NAME.test(`${each.file} ${each.name}`))
        .map(({ file, name }) => `${file}: ${name}`),
    ).toEqual([]);
  });

  it("have names of their own: a name that is looked for is found once", () => {
    const places = Map.groupBy(
      exported.filter(({ file, name }) => !BY_NAME.test(`${file} ${name}`)),
      ({ name }) => name,
    );
    expect(
      [...places].filter(([, all]) => all.length > 1).map(([name, all]) => `${name}: ${all.map((each) => each.file)}`),
    ).toEqual([]);
  });

  it("say in the rooms that work things out what they are: each has a docstring", () => {
    const rooms = /^src\/(?:schema|read|compile|domain|drawing|paper|rules|site|build)\//;
    const silent = trees
      .filter(({ file }) => rooms.test(file) && file.endsWith(".ts"))
      .flatMap(({ file, tree }) =>
        tree.statements
          .filter((node) => isExported(node) && ts.getJSDocCommentsAndTags(node).length === 0)
          .map((node) => `${file} ${node.getText().split("\n")[0]}`),
      );
    expect(silent).toEqual([]);
  });
});

/** Packages that no import names, and what uses them. */
const USED_OTHERWISE: Readonly<Record<string, string>> = {
  node: "src/commands/rerig.mjs starts it by its path",
  "@mdx-js/mdx":
    "the compiler of MDX that @astrojs/markdown-remark brings in: named so that its version is exact, and " +
    "the same as that of remark-mdx, by which `check` reads",
  "@astrojs/check": "`astro check` in tests/run-all.ts",
  "pa11y-ci": "tests/site/look/markup.ts takes its rules, tests/site/markup.test.ts runs it",
  eslint: "tests/run-all.ts",
  prettier: "tests/run-all.ts",
  "prettier-plugin-astro": ".prettierrc.json",
};

describe("packages", () => {
  const { dependencies, devDependencies } = JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as Record<
    "dependencies" | "devDependencies",
    Readonly<Record<string, string>>
  >;
  const nameOf = (from: string) => from.split("/", from.startsWith("@") ? 2 : 1).join("/");
  const configs = ["vitest.config.ts"].map((file) => ({
    file,
    tree: ts.createSourceFile(file, scriptOf(file), ts.ScriptTarget.Latest, true),
  }));
  /** Packages that the files name in an import or a path of `node_modules`; those that only give types, apart. */
  const named = (of: (file: string) => boolean) => {
    const values = new Set<string>(),
      types = new Set<string>();
    for (const { tree } of [...trees, ...configs].filter(({ file }) => of(file))) {
      for (const [, from] of tree.text.matchAll(/(?:\bimport\(|resolve\(|require\()\s*["`]([^"`.$][^"`$]*)/g))
        values.add(nameOf(from!));
      for (const statement of tree.statements)
        if (ts.isImportDeclaration(statement)) {
          const from = nameOf((statement.moduleSpecifier as ts.StringLiteral).text);
          (statement.importClause?.isTypeOnly ? types : values).add(from);
        }
    }
    return { values, types };
  };
  const isProduct = (file: string) => /^(?:src|components|procedures)\/|^astro\.config/.test(file);
  const product = named(isProduct),
    rest = named((file) => !isProduct(file));
  const styles = readdirSync(join(root, "src/styles"), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".css"))
    .map((name) => readFileSync(join(root, "src/styles", name), "utf8"))
    .join("\n");

  it("that the program needs are used by it", () => {
    expect(
      Object.keys(dependencies).filter(
        (name) => !product.values.has(name) && !styles.includes(`node_modules/${name}/`) && !USED_OTHERWISE[name],
      ),
    ).toEqual([]);
  });

  it("that only tests and types need are not installed with the program, and are used", () => {
    const isOfTypes = (name: string) =>
      dependencies[name.replace("@types/", "")] ?? /@types\/(node|hast|mdast|unist)$/.test(name);
    expect(
      Object.keys(devDependencies).filter(
        (name) =>
          !rest.values.has(name) &&
          !rest.types.has(name) &&
          !product.types.has(name) &&
          !isOfTypes(name) &&
          !USED_OTHERWISE[name],
      ),
    ).toEqual([]);
    expect(Object.keys(devDependencies).filter((name) => product.values.has(name))).toEqual([]);
  });
});
