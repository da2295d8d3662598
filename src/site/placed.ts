/** Positions and sizes as classes, because the site's policy allows no `style` attribute. */
import { askFor, type Site } from "./site.ts";

/**
 * Class names that set CSS custom properties, for use in `class`: `placed({ x: 32.12, d: 40 })` sets `--x` and `--d`.
 * Numbers are rounded to `digits` decimals (default 2) so that pages share classes.
 */
export function placed(site: Site, properties: Readonly<Record<string, number>>, digits = 2): string {
  return Object.entries(properties)
    .map(([name, value]) => {
      const number = String(Number(value.toFixed(digits)));
      const className = `${name}-${number.replace("-", "m").replace(".", "_")}`;
      askFor(site, "placed", className, `--${name}:${number}`);
      return className;
    })
    .join(" ");
}

/** The stylesheet that gives every class handed out so far its meaning, in a fixed order. */
export function placedStyles(rules: ReadonlyMap<string, string>): string {
  return [...rules]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([className, rule]) => `.${className}{${rule}}`)
    .join("\n");
}
