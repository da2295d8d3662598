/** Holds at which nothing is looked at. */
import { type Rule, whereOf } from "../../findings/finding.ts";
import { ownSteps } from "../texts.ts";

/** A hold has a challenge, or is where the card is read: else nobody can say when it is over. */
export const holdWithoutCheck: Rule = {
  id: "text/hold-without-check",
  severity: "warning",
  asks: "A hold says what is looked at before anybody goes on.",
  why: "Nobody goes on until it is done, but nobody is asked whether it is: a hold without a check stops no one.",
  source: "EU 145.A.48(b), second hand (a hold point is released by a check); otherwise common practice, no source",
  byPlatform: true,
  check(collection, report, { damaged }) {
    for (const { step } of ownSteps(collection, damaged))
      if (step.hold && !step.checks.length && !step.readsCard)
        report(whereOf(step, "hold"), {
          message: "This step holds everybody up, and nobody is asked anything before they go on",
          fix: "Add to the step what is looked at: `::check[…]{answer=…}`",
        });
  },
};
