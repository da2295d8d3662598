/**
 * Makes what is equal in two states of the same records one object again, so that what was worked out for it
 * (`remember`) holds on.
 */

/**
 * `now`, with every part that is equal to the part of `before` in its place exchanged for that very part; `before` itself
 * if all is equal. Parts are records, lists, maps and sets; entries of lists that have an `id` or a `file` stand in the
 * place of the one of the same name. Objects of `now` are changed where they stand; what they say stays the same.
 */
export function shareWith<T>(before: unknown, now: T): T {
  const met = new Map<object, object>();
  const share = (old: unknown, fresh: unknown): unknown => {
    if (!isPart(fresh) || old === fresh) return fresh;
    const known = met.get(fresh);
    if (known) return known;
    if (!isPart(old) || kindOf(old) !== kindOf(fresh)) return fresh;
    // Met again inside itself it stays what it is.
    met.set(fresh, fresh);
    const isSame = shareParts(old, fresh, share);
    if (isSame) met.set(fresh, old);
    return isSame ? old : fresh;
  };
  return share(before, now) as T;
}

type Share = (old: unknown, fresh: unknown) => unknown;

/** Exchanges the parts of one object, and says whether all of it is equal to the old one. */
function shareParts(old: object, fresh: object, share: Share): boolean {
  if (fresh instanceof Set) return isSameList([...(old as Set<unknown>)], [...fresh]);
  if (fresh instanceof Map) {
    const was = old as Map<unknown, unknown>;
    for (const [key, part] of fresh) fresh.set(key, share(was.get(key), part));
    return isSameList([...was].flat(), [...fresh].flat());
  }
  if (Array.isArray(fresh)) {
    const was = old as readonly unknown[],
      byName = was.length === fresh.length ? undefined : new Map(was.map((part) => [nameOf(part), part]));
    fresh.forEach((part: unknown, at) => {
      const name = byName && nameOf(part);
      fresh[at] = share(name === undefined ? was[at] : byName!.get(name), part);
    });
    return isSameList(was, fresh);
  }
  const was = old as Readonly<Record<string, unknown>>,
    now = fresh as Record<string, unknown>,
    keys = Object.keys(now);
  for (const key of keys)
    if (isPart(now[key]) && Object.hasOwn(was, key)) {
      const part = share(was[key], now[key]);
      if (part !== now[key]) now[key] = part;
    }
  return isSameList(Object.keys(was), keys) && keys.every((key) => Object.is(was[key], now[key]));
}

const isPart = (value: unknown): value is object => value !== null && typeof value === "object";

const isSameList = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a.length === b.length && a.every((each, at) => Object.is(each, b[at]));

/** Objects of other kinds than these are never taken for equal. */
function kindOf(part: object): object | null {
  return Object.getPrototypeOf(part) as object | null;
}

function nameOf(part: unknown): string | undefined {
  if (!isPart(part)) return undefined;
  const { id, file } = part as { readonly id?: unknown; readonly file?: unknown };
  return typeof id === "string" ? id : typeof file === "string" ? file : undefined;
}
