/** What is sent with a file: a line of JSON, and the file's bytes behind it. */
import type { z } from "zod";
import { heard } from "../../words/heard.ts";
import { Refusal } from "../disk/refusal.ts";

/** The line of JSON and the bytes behind it; throws `Refusal` for a line of another shape. */
export function parted<Head>(sent: Buffer, shape: z.ZodType<Head>): { readonly head: Head; readonly bytes: Buffer } {
  const end = sent.indexOf("\n");
  let said: unknown;
  try {
    said = JSON.parse(sent.subarray(0, end < 0 ? sent.length : end).toString("utf8"));
  } catch {
    // Said below.
  }
  const head = shape.safeParse(said);
  if (!head.success) throw new Refusal(heard("deskDoor").fileNotUnderstood);
  return { head: head.data, bytes: end < 0 ? Buffer.alloc(0) : sent.subarray(end + 1) };
}
