/** The background pages of the collection, as `readingsPlugin` gives them. */
declare module "virtual:rerig-readings" {
  export const readings: Readonly<
    Record<
      string,
      () => Promise<{
        readonly Content: import("astro/runtime/server/index.js").AstroComponentFactory;
        readonly getHeadings: () => { readonly depth: number; readonly slug: string; readonly text: string }[];
      }>
    >
  >;
}
