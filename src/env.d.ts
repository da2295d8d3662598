/** Types that Astro brings, for `tsc` in a fresh clone. */
/// <reference types="astro/client" />

// `tsc` alone does not read Astro files; `astro check` does, with their real types.
declare module "*.astro" {
  const component: import("astro/runtime/server/index.js").AstroComponentFactory;
  export default component;
}
