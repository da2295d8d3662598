/** Runs in the head of pages that are written from the right: what their scripts say has its measures isolated. */
import { isolateMeasures } from "../words/isolate.ts";
import { LAID } from "../words/laid.ts";

(globalThis as { [LAID]?: typeof isolateMeasures })[LAID] = isolateMeasures;
