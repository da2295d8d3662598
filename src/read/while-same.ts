/** What was read of a file is known for as long as the file is the same, in a process that reads a collection again. */
import { stat } from "node:fs/promises";

/** A file changed less long ago, in milliseconds, may change again without a sign: clocks of disks tick as seldom. */
const UNSETTLED = 4000;
/** Results held at most. */
const MOST = 50_000;

/**
 * The same function of a file's content, which reads the file once while it has the same size, times and number on its
 * disk. What it throws is not remembered.
 */
export function whileSame<Result>(read: (path: string) => Promise<Result>): (path: string) => Promise<Result> {
  const known = new Map<string, { readonly stamp: string; readonly result: Result }>();
  return async (path) => {
    const stamp = await stampOf(path),
      before = known.get(path);
    if (stamp !== undefined && before?.stamp === stamp) return before.result;
    const result = await read(path);
    if (known.size >= MOST) known.clear();
    if (stamp === undefined) known.delete(path);
    else known.set(path, { stamp, result });
    return result;
  };
}

/** What says that a file is the same; nothing where it is not there, or was changed just now. */
async function stampOf(path: string): Promise<string | undefined> {
  try {
    const { size, mtimeNs, ctimeNs, mtimeMs, ctimeMs, ino } = await stat(path, { bigint: true });
    const age = Date.now() - Number(mtimeMs > ctimeMs ? mtimeMs : ctimeMs);
    return age > UNSETTLED ? `${size} ${mtimeNs} ${ctimeNs} ${ino}` : undefined;
  } catch {
    return undefined;
  }
}
