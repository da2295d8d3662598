/** Runs in the head of pages that are written from the right: what their scripts say has its measures isolated. */
import { LAID } from "../words/hear.ts";
import { isolateMeasures } from "../words/isolate.ts";

(globalThis as { [LAID]?: typeof isolateMeasures })[LAID] = isolateMeasures;
