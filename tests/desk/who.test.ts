/** Who does a step, as the desk offers it to crews of one to four: a preset that exists, and each group of the crew. */
import { expect, it } from "vitest";
import { insertForm, type StepContext } from "../../src/desk/screens/forms/step-form.ts";

/** What the form of a new step offers, and which of it is chosen beforehand. */
function offered(...ids: string[]) {
  const crew = ids.map((id) => ({ id, name: `The ${id}` }));
  const form = insertForm({ service: { crew, language: "en-GB" } } as unknown as StepContext, 1, "New").html;
  const options = [...form.matchAll(/<option value="([^"]*)"([^>]*)>\s*([^<]*?)\s*<\/option>/gu)];
  return {
    values: options.map(([, value]) => value),
    names: options.map(([, , , name]) => name),
    preset: options.filter(([, , attributes]) => attributes!.includes("selected")).map(([, value]) => value),
  };
}

it("offers a crew of three each two of it; a new step is everybody's, and all that is offered exists", () => {
  const { values, names, preset } = offered("lead", "tail", "medic");
  expect(values).toEqual(["lead", "tail", "medic", "lead tail", "lead medic", "tail medic", "all", ""]);
  expect(names[4]).toBe("The lead and The medic");
  expect(preset).toEqual(["all"]);
});

it("offers a crew of two both, of one its role, and of four every group", () => {
  expect(offered("lead", "second")).toMatchObject({ values: ["lead", "second", "both", ""], preset: ["both"] });
  expect(offered("lead")).toMatchObject({ values: ["lead", ""], preset: ["lead"] });
  expect(offered("a", "b", "c", "d").values).toHaveLength(4 + 6 + 4 + 2);
});

it("offers a crew of eight each two of it: its groups are 246", () => {
  expect(offered(..."abcdefgh").values).toHaveLength(8 + 28 + 2);
});
