/** Types that Astro brings, for `tsc` in a fresh clone. */
/// <reference types="astro/client" />

// `tsc` alone does not read Astro files; `astro check` does, with their real types.
declare module "*.astro" {
  const component: import("astro/runtime/server/index.js").AstroComponentFactory;
  export default component;
}

// What stands in `Astro.locals` of every page (`src/middleware.ts`).
declare namespace App {
  interface Locals {
    /** The build that renders the page: for pages and layouts; components are given what they show. */
    site: import("./site/site.ts").Site;
    /** All that is said on pages, in the language and the nouns of the service. */
    words: import("./words/hear.ts").Words;
    /** What a page or component asks the build to make. */
    out: import("./site/out.ts").Out;
  }
}
