/** The demo's drawings against its checks: a sign that an answer names by its colour is named by the drawing too. */
import { join } from "node:path";
import { expect, it } from "vitest";
import { readCollection } from "../read-collection.ts";

const folder = join(import.meta.dirname, "../../procedures");
const colours = /\b(red|green|amber|yellow|white|blue)\b/gi;
/** Colours of cloths, tags and bins: they are no signs of the part that is looked at. */
const coloursIn = (text: string): string[] =>
  [...text.replace(/\b(red tags?|red bin)\b/gi, "").matchAll(colours)].map(([word]) => word.toLowerCase());

// Common practice, no source: whoever looks for a colour has seen it once. The texts are the demo's, invented.
it("every check of the demo that asks for a colour has a drawing that names and shows it", async () => {
  const { platforms } = await readCollection(folder);
  const asked = platforms.flatMap(({ procedures, photos }) =>
    procedures
      .filter(({ status }) => status === "approved")
      .flatMap(({ id, steps }) =>
        steps.flatMap((step) => {
          const said = step.photos
            .flatMap((photo) => photos.filter((other) => other.id === photo.id))
            .flatMap(({ alt, marks }) => [alt ?? "", ...marks.map(({ label }) => label)])
            .join(" ");
          return step.checks.flatMap(({ answer }) =>
            coloursIn(answer).map((colour) => ({ at: `${id} ${step.id ?? step.number}`, colour, said })),
          );
        }),
      ),
  );
  expect(asked.length).toBeGreaterThan(30);
  expect(
    asked.filter(({ colour, said }) => !coloursIn(said).includes(colour)).map(({ at, colour }) => `${at}: ${colour}`),
  ).toEqual([]);
});
