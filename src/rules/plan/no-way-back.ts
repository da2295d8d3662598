/** Rule plan/no-way-back. */
import type { Rule } from "../../findings/finding.ts";
import { reportProved } from "../proof.ts";

/** From every arrangement there is a way back to the standing one. */
export const noWayBack: Rule = {
  id: "plan/no-way-back",
  severity: "error",
  asks: "From every arrangement there is a way back to the standing one.",
  why:
    "The return half is the neglected one: one published checklist of five covers it (Brunsveld-Reinders et al. " +
    "2015).",
  source: "common practice, no source",
  byPlatform: true,
  check: (collection, report, context) => reportProved("plan/no-way-back", collection, report, context),
};
