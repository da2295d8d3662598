/** Going back to what a file said earlier on this day. */
import { z } from "zod";
import { heard } from "../../words/heard.ts";
import { tellSaved } from "./tell-saved.ts";
import { type Handler, reading, sentLine } from "../handler.ts";
import { historyOf, saveFiles, textOfState } from "../disk/save.ts";

/** By the address to which it is sent. */
export const DAY_HANDLERS: Readonly<Record<"restore", Handler>> = {
  restore: reading(z.strictObject({ file: sentLine, basedOn: sentLine, hash: sentLine }), async (sent, reader) => {
    const { file, basedOn, hash } = sent,
      isOfFile = historyOf(reader.folder, file).some((state) => state.hash === hash),
      text = isOfFile ? textOfState(reader.folder, hash) : undefined;
    if (text === undefined) return { refused: heard("deskDay").keptNoLonger };
    const outcome = await tellSaved(reader, file, saveFiles(reader.folder, [{ path: file, basedOn, text }]));
    return "changed" in outcome ? { refused: heard("deskDay").changedMeanwhile } : outcome;
  }),
};
