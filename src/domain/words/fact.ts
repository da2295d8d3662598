/**
 * Small answers that are worked out of a procedure, and tell as themselves (`words/reads.ts`): who asks only whom a
 * procedure includes is left as it is when the procedure gets another step.
 */
import { onceInProcess } from "../../schema/once-in-process.ts";
import { tellRead, withoutTelling } from "./reads.ts";

/** Said by whoever bundles the module for a browser, where nobody asks what was read. */
declare const RERIG_IN_BROWSER: true | undefined;

interface Facts {
  /** What tells, by the name of the document. */
  readonly documents: WeakMap<object, string>;
  readonly works: Map<string, (record: never) => unknown>;
}
const on = /* @__PURE__ */ onceInProcess<Facts>("facts", () => ({ documents: new WeakMap(), works: new Map() }));

/**
 * The same function; asked of a procedure that tells, it tells its own name and nothing else. It must be pure, and rest
 * on nothing but the procedure; `name`: one of its own.
 */
export function fact<Record extends object, Result>(
  name: string,
  work: (record: Record) => Result,
): (record: Record) => Result {
  if (typeof RERIG_IN_BROWSER !== "undefined") return work;
  on.works.set(name, work);
  return (record) => {
    const document = on.documents.get(record);
    if (document === undefined) return work(record);
    tellRead(toldAs(name, document));
    return withoutTelling(() => work(record));
  };
}

const toldAs = (name: string, document: string) => `${name}=${document}`;

/** Says that a record is a procedure that tells. */
export function tellFacts(record: object, document: string): void {
  on.documents.set(record, document);
}

/** All facts of a procedure, by the names under which they are told. */
export function factsToldOf(record: object, document: string): ReadonlyMap<string, unknown> {
  return withoutTelling(
    () => new Map([...on.works].map(([name, work]) => [toldAs(name, document), work(record as never)] as const)),
  );
}
