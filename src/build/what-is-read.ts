/**
 * What of a site each page has read: its values are handed to pages in a wrapping that notes every field that is asked
 * for. When the site is made again, what was read is compared with what is there now, field by field, and a page of
 * which nothing has changed need not be made again.
 */
import { type Reads, type Watcher, watchWith } from "../domain/words/reads.ts";

/** A field of a record, or all its names (`NAMES`), or all that is in a list, a map or a set (`CONTENT`). */
interface Field {
  readonly of: Node;
  readonly key: PropertyKey;
  hasChanged: boolean;
  /** Where it was noted last: most of what is read is read again at once. */
  last?: Frame;
}

/** A field as it is handed on, and what whoever gets it has read. */
interface Handed {
  readonly value: unknown;
  readonly fields: readonly Field[];
}

/** A record of which something was asked, through all versions of the site that have it in the same place. */
interface Node {
  value: object;
  readonly fields: Map<PropertyKey, Field>;
}

/** What was read for one result: fields, and what was read for the results that it was made with. */
class Frame {
  readonly own = new Set<Field>();
  readonly uses = new Set<Frame>();
}

const NAMES = Symbol("names"),
  CONTENT = Symbol("content");

/** Something that is no record, by its name: what was said of it when it was asked for, and who says it. */
interface Outside {
  readonly field: Field;
  said: string;
  readonly ask: () => string;
}

/**
 * Watches one site after another. A record of the next site is the same as one of the last if it is where that was
 * found; where that can't be said (one record has become two, or two one) all that was read of it counts as changed. So
 * what is said to be unchanged is, and what is said to have changed may not have.
 */
export class ReadsOfSites {
  readonly #nodes = new WeakMap<object, Node>();
  #wrapped = new WeakMap<object, object>();
  readonly #known = new Set<Node>();
  readonly #outside = new Map<string, Outside>();
  readonly #wholes = new WeakMap<object, Frame>();
  readonly #open: Frame[] = [];
  #root: Node | undefined;
  #changed: Field[] = [];

  /**
   * Takes the values of a site, and gives them as they are to be handed on. What was read of the last values is
   * compared with these.
   */
  begin<Values extends object>(values: Values): Values {
    for (const field of this.#changed) field.hasChanged = false;
    this.#changed = [];
    // A record that two sites share may be in another place of the second one: what is read of it is noted there.
    this.#wrapped = new WeakMap();
    for (const each of this.#outside.values()) {
      const now = each.ask();
      if (now !== each.said) this.#change(each.field);
      each.said = now;
    }
    if (this.#root) this.#compare(this.#root, values);
    this.#root = this.#nodeOf(values);
    return this.#wrap(values) as Values;
  }

  /** Does some work, and says what was read for it; `before`: what had been read to come to it. */
  async watch<Result>(work: () => Promise<Result>, before?: Reads): Promise<{ result: Result; reads: Reads }> {
    if (this.#open.length > 0) throw new Error("One piece of work is watched at a time");
    const frame = new Frame();
    if (before) frame.uses.add(before as Frame);
    this.#open.push(frame);
    watchWith(this.#watcher);
    try {
      return { result: await work(), reads: frame };
    } finally {
      watchWith(undefined);
      this.#open.length = 0;
    }
  }

  /** Of some of what was read, those of which nothing has changed since the values before these. */
  unchanged(all: Iterable<Reads>): Set<Reads> {
    const asked = [...all] as Frame[],
      met = new Set(asked),
      users = new Map<Frame, Frame[]>(),
      changed = new Set<Frame>();
    for (const frame of met) {
      for (const used of frame.uses) {
        met.add(used);
        users.set(used, [...(users.get(used) ?? []), frame]);
      }
      for (const field of frame.own) if (field.hasChanged) changed.add(frame);
    }
    for (const frame of changed) for (const user of users.get(frame) ?? []) changed.add(user);
    return new Set(asked.filter((frame) => !changed.has(frame)));
  }

  readonly #watcher: Watcher = {
    during: (work) => {
      const frame = new Frame();
      this.#open.push(frame);
      try {
        return { result: work(), reads: frame };
      } finally {
        this.#open.pop();
        this.#open.at(-1)?.uses.add(frame);
      }
    },
    again: (reads) => {
      this.#open.at(-1)?.uses.add(reads as Frame);
    },
    within: (whole, work) => {
      const frame = this.#wholes.get(whole) ?? new Frame();
      this.#wholes.set(whole, frame);
      this.#open.at(-1)?.uses.add(frame);
      this.#open.push(frame);
      try {
        return work();
      } finally {
        this.#open.pop();
      }
    },
    outside: (name, ask) => {
      const known = this.#outside.get(name) ?? {
        field: fieldOf({ value: {}, fields: new Map() }, name),
        said: ask(),
        ask,
      };
      this.#outside.set(name, known);
      this.#open.at(-1)?.own.add(known.field);
    },
  };

  #note(field: Field): void {
    const frame = this.#open.at(-1);
    if (!frame || field.last === frame) return;
    field.last = frame;
    frame.own.add(field);
  }

  #nodeOf(value: object): Node {
    const known = this.#nodes.get(value);
    // Where a record was, another may be by now.
    const node = known?.value === value ? known : { value, fields: new Map() };
    this.#nodes.set(value, node);
    this.#known.add(node);
    return node;
  }

  #wrap(value: unknown): unknown {
    if (!isWatched(value)) return value;
    const known = this.#wrapped.get(value);
    if (known) return known;
    const take = (wrapped: object) => {
      this.#wrapped.set(value, wrapped);
      // What is handed on may come back inside of something else.
      this.#wrapped.set(wrapped, wrapped);
    };
    if (Array.isArray(value)) {
      const list: unknown[] = [];
      take(list);
      for (const entry of value) list.push(this.#wrap(entry));
      return list;
    }
    if (value instanceof Map) {
      const map = new Map<unknown, unknown>();
      take(map);
      for (const [key, entry] of value) map.set(this.#wrap(key), this.#wrap(entry));
      return map;
    }
    if (value instanceof Set) {
      const set = new Set<unknown>();
      take(set);
      for (const entry of value) set.add(this.#wrap(entry));
      return set;
    }
    const record = this.#wrapRecord(value);
    take(record);
    return record;
  }

  #wrapRecord(value: object): object {
    const node = this.#nodeOf(value),
      names = fieldOf(node, NAMES),
      handed = new Map<PropertyKey, Handed>();
    const handOn = (field: unknown, key: PropertyKey): unknown => {
      let known = handed.get(key);
      if (!known) {
        known = { value: this.#wrap(field), fields: [fieldOf(node, key), ...this.#contentOf(field)] };
        handed.set(key, known);
      }
      for (const each of known.fields) this.#note(each);
      return known.value;
    };
    return new Proxy(value, {
      get: (record, key) => {
        const field: unknown = Reflect.get(record, key);
        // What the language asks of a record is none of its fields.
        if (typeof field === "function" || (typeof key === "symbol" && !Object.hasOwn(record, key))) return field;
        return handOn(field, key);
      },
      has: (record, key) => {
        this.#note(fieldOf(node, key));
        return Reflect.has(record, key);
      },
      ownKeys: (record) => {
        this.#note(names);
        return Reflect.ownKeys(record);
      },
      getOwnPropertyDescriptor: (record, key) => {
        this.#note(fieldOf(node, key));
        const found = Reflect.getOwnPropertyDescriptor(record, key);
        return found && "value" in found ? { ...found, value: handOn(found.value, key) } : found;
      },
    });
  }

  /**
   * Lists, maps and sets are handed on as copies, which nobody can be watched reading: who gets one has read what is in
   * it, and in those directly within it.
   */
  #contentOf(value: unknown): readonly Field[] {
    const found: Field[] = [],
      met = new Set<unknown>();
    const look = (group: unknown) => {
      if (met.has(group) || !(Array.isArray(group) || group instanceof Map || group instanceof Set)) return;
      met.add(group);
      found.push(fieldOf(this.#nodeOf(group), CONTENT));
      for (const entry of entriesOf(group)) look(entry);
    };
    look(value);
    return found;
  }

  #change(field: Field): void {
    if (field.hasChanged) return;
    field.hasChanged = true;
    this.#changed.push(field);
  }

  /** Compares what was read of a record and of what is in it with what is there now, and makes the old ones the new. */
  #compare(root: Node, now: object): void {
    const found = new Map<Node, object>(),
      taken = new Map<object, Node>(),
      unlike = new Set<Node>(),
      waiting: [Node, object][] = [];
    const pair = (node: Node, value: object): boolean => {
      const before = found.get(node),
        other = taken.get(value);
      if (before === value) return true;
      if (before || other) {
        // Told apart no more, or told apart only now: whoever asked for either may say otherwise.
        unlike.add(node);
        if (other) unlike.add(other);
        return false;
      }
      found.set(node, value);
      taken.set(value, node);
      waiting.push([node, value]);
      return true;
    };
    const isAlike = (a: unknown, b: unknown): boolean => {
      if (!isWatched(a) || !isWatched(b)) return Object.is(a, b);
      return kindOf(a) === kindOf(b) && pair(this.#nodeOf(a), b);
    };
    pair(root, now);
    for (let next = waiting.pop(); next; next = waiting.pop()) {
      const [node, value] = next;
      for (const field of node.fields.values()) {
        const { key } = field;
        if (!hasSame(node.value, value, key, isAlike)) this.#change(field);
      }
    }
    for (const node of unlike) for (const field of node.fields.values()) this.#change(field);
    for (const node of this.#known) {
      const value = found.get(node);
      if (value) {
        node.value = value;
        this.#nodes.set(value, node);
        continue;
      }
      // It is where it was no more, or only another record that has changed led to it.
      for (const field of node.fields.values()) this.#change(field);
      this.#known.delete(node);
    }
  }
}

/** A field of a node; the same one each time. */
function fieldOf(node: Node, key: PropertyKey): Field {
  const known = node.fields.get(key);
  if (known) return known;
  const field = { of: node, key, hasChanged: false };
  node.fields.set(key, field);
  return field;
}

/** What is in a list, a map (keys and values in turn) or a set, in order. */
function entriesOf(group: object): readonly unknown[] {
  if (Array.isArray(group)) return group;
  return group instanceof Map ? [...group].flat() : [...(group as ReadonlySet<unknown>)];
}

/** Whether a field, the names or the content of a record are as in another. */
function hasSame(before: object, now: object, key: PropertyKey, isAlike: (a: unknown, b: unknown) => boolean): boolean {
  if (key === NAMES) {
    const [old, fresh] = [Reflect.ownKeys(before), Reflect.ownKeys(now)];
    return old.length === fresh.length && old.every((name, at) => name === fresh[at]);
  }
  if (key === CONTENT) {
    const [old, fresh] = [entriesOf(before), entriesOf(now)];
    return old.length === fresh.length && old.every((entry, at) => isAlike(entry, fresh[at]));
  }
  return Reflect.has(before, key) === Reflect.has(now, key) && isAlike(Reflect.get(before, key), Reflect.get(now, key));
}

/** What a value is, as far as what is in it can be compared; anything else is the same only if it is that object. */
function kindOf(value: object): string | undefined {
  if (Array.isArray(value)) return "list";
  if (value instanceof Map) return "map";
  if (value instanceof Set) return "set";
  const shape: unknown = Object.getPrototypeOf(value);
  return shape === null || shape === Object.prototype ? "record" : undefined;
}

function isWatched(value: unknown): value is object {
  return typeof value === "object" && value !== null && kindOf(value) !== undefined;
}
