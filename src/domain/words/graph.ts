/** Records as text and back, with what they share: objects that stand in several places are one object again. */

/** What a place in the text may say beside a plain value. */
type Written = null | boolean | number | string | readonly Written[] | { readonly [key: string]: Written };

/**
 * The text of a value: null, booleans, numbers, strings, bigints, `undefined`, and arrays, plain objects and maps of
 * them. Objects are numbered as they are met, those of `known` first; each is written once. Equal texts are of equal
 * values that share alike. Throws `TypeError` for anything else (functions, dates, objects of a class), and for an
 * object that is not among the known and is `refused`.
 */
export function writeGraph(
  value: unknown,
  known: ReadonlyMap<object, number> = new Map(),
  refused: (record: Readonly<Record<string, unknown>>) => boolean = () => false,
): string {
  const met = new Map<object, number>();
  const write = (each: unknown): Written => {
    if (each === null || typeof each === "boolean" || typeof each === "string") return each;
    if (typeof each === "number")
      return Number.isFinite(each) && !Object.is(each, -0) ? each : { number: sayNumber(each) };
    if (typeof each === "undefined") return {};
    if (typeof each === "bigint") return { bigint: each.toString() };
    if (typeof each !== "object") throw new TypeError(`a ${typeof each} can't be written`);
    const number = known.get(each) ?? met.get(each);
    if (number !== undefined) return { met: number };
    met.set(each, known.size + met.size);
    if (Array.isArray(each)) return each.map(write);
    if (each instanceof Map) return { map: [...each].map((entry) => entry.map(write)) };
    if (Object.getPrototypeOf(each) !== Object.prototype) throw new TypeError("only plain objects can be written");
    if (refused(each as Readonly<Record<string, unknown>>)) throw new TypeError("this object may only be named");
    return { record: Object.entries(each).flatMap(([key, field]) => [key, write(field)]) };
  };
  return JSON.stringify(write(value));
}

const sayNumber = (value: number): string => (Object.is(value, -0) ? "-0" : String(value));

/**
 * The value that `writeGraph` wrote; where it names known objects it has those of `known`, in the order of their
 * numbers. Throws for a text that is none of its own.
 */
export function readGraph(text: string, known: readonly object[] = []): unknown {
  const met: object[] = [...known];
  const keep = <T extends object>(object: T): T => {
    met.push(object);
    return object;
  };
  const read = (each: Written): unknown => {
    if (each === null || typeof each !== "object") return each;
    if (isList(each)) {
      const list = keep<unknown[]>([]);
      for (const entry of each) list.push(read(entry));
      return list;
    }
    if ("record" in each) {
      const record = keep<Record<string, unknown>>({}),
        fields = each["record"] as readonly Written[];
      for (let at = 0; at < fields.length; at += 2) setField(record, fields[at] as string, read(fields[at + 1]!));
      return record;
    }
    if ("map" in each) {
      const map = keep(new Map<unknown, unknown>());
      for (const [key, field] of each["map"] as readonly (readonly Written[])[]) map.set(read(key!), read(field!));
      return map;
    }
    if ("met" in each) {
      const object = met[each["met"] as number];
      if (!object) throw new TypeError("an object is named that was not met");
      return object;
    }
    if ("bigint" in each) return BigInt(each["bigint"] as string);
    if ("number" in each) return Number(each["number"]);
    return undefined;
  };
  return read(JSON.parse(text) as Written);
}

/** Sets a field of whatever name an author has chosen, `__proto__` too. */
export function setField(record: Record<string, unknown>, key: string, value: unknown): void {
  if (key === "__proto__")
    Object.defineProperty(record, key, { value, enumerable: true, writable: true, configurable: true });
  else record[key] = value;
}

const isList = (each: object): each is readonly Written[] => Array.isArray(each);
