/** What this device keeps of a learner's practice, in the browser's own database. It is sent nowhere. */
import { type DBSchema, deleteDB, type IDBPDatabase, openDB } from "idb";
import type { Words } from "../../words/hear.ts";
import { siteKey } from "../site-root.ts";
import type { Kept } from "./schedule.ts";

/** A document that was studied or practised here, in which revision, when. */
interface Studied {
  /** `platform procedure id`. */
  readonly key: string;
  readonly title: string;
  readonly revision: number;
  /** ISO 8601. */
  readonly at: string;
}

interface Schema extends DBSchema {
  kept: { key: string; value: Kept };
  studied: { key: string; value: Studied };
}

/** What an export file holds. */
interface Exported {
  readonly form: "rerig practice 1";
  readonly exported: string;
  readonly kept: readonly Kept[];
  readonly studied: readonly Studied[];
}

/** The database of pages that did not yet tell the sites of one host apart. */
const SHARED = "rerig-practice";

/**
 * A database of the site's own. A site that is opened from a folder has none to itself: each new copy stands in
 * another one, and a record that it left behind would be lost.
 */
const nameNow = () => (location.protocol === "file:" ? SHARED : siteKey(SHARED));

/** The learner's practice on this device. */
export class PracticeStore {
  readonly #database: IDBPDatabase<Schema>;

  private constructor(database: IDBPDatabase<Schema>) {
    this.#database = database;
  }

  /**
   * Opens the database; rejects where the browser keeps none (some private windows) or can't read the one that it has.
   * A site that has none yet takes over what was kept for all sites of its host.
   */
  static async open(): Promise<PracticeStore> {
    const shared = await readShared();
    const database = await openDB<Schema>(nameNow(), 1, {
      upgrade(fresh, _before, _after, change) {
        fresh.createObjectStore("kept", { keyPath: "id" });
        fresh.createObjectStore("studied", { keyPath: "key" });
        for (const entry of shared.kept) void change.objectStore("kept").put(entry);
        for (const entry of shared.studied) void change.objectStore("studied").put(entry);
      },
    });
    const store = new PracticeStore(database);
    await Promise.all([store.readKept(), store.readStudied()]);
    return store;
  }

  async readKept(): Promise<Map<string, Kept>> {
    return new Map((await this.#database.getAll("kept")).map((entry) => [entry.id, entry]));
  }

  async readStudied(): Promise<Map<string, Studied>> {
    return new Map((await this.#database.getAll("studied")).map((entry) => [entry.key, entry]));
  }

  async keep(entry: Kept): Promise<void> {
    await this.#database.put("kept", entry);
  }

  async study(entry: Studied): Promise<void> {
    await this.#database.put("studied", entry);
  }

  async drop(ids: readonly string[]): Promise<void> {
    const change = this.#database.transaction("kept", "readwrite");
    await Promise.all([...ids.map((id) => change.store.delete(id)), change.done]);
  }

  async reset(): Promise<void> {
    const change = this.#database.transaction(["kept", "studied"], "readwrite");
    await Promise.all([change.objectStore("kept").clear(), change.objectStore("studied").clear(), change.done]);
    // Who has everything forgotten means that too; nobody waits for a page that still has it open.
    if (nameNow() !== SHARED) void deleteDB(SHARED).catch(() => undefined);
  }

  async exportAll(now: Date): Promise<Exported> {
    return {
      form: "rerig practice 1",
      exported: now.toISOString(),
      kept: [...(await this.readKept()).values()],
      studied: [...(await this.readStudied()).values()],
    };
  }

  /** Takes in an export: of a question that both have, the one answered later stays. All of it is written or none. */
  async importAll(file: Exported): Promise<{ readonly taken: number }> {
    const [kept, studied] = [await this.readKept(), await this.readStudied()];
    const newer = file.kept.filter(({ id, card }) => (kept.get(id)?.card.last_review ?? "") < (card.last_review ?? ""));
    const later = file.studied.filter(({ key, at }) => (studied.get(key)?.at ?? "") < at);
    const change = this.#database.transaction(["kept", "studied"], "readwrite");
    await Promise.all([
      ...newer.map((entry) => change.objectStore("kept").put(entry)),
      ...later.map((entry) => change.objectStore("studied").put(entry)),
      change.done,
    ]);
    return { taken: newer.length };
  }
}

/** What stands in the database of all sites of the host; nothing if there is none, and none is made. */
async function readShared(): Promise<Pick<Exported, "kept" | "studied">> {
  const nothing = { kept: [], studied: [] };
  if (nameNow() === SHARED) return nothing;
  try {
    const database = await openDB<Schema>(SHARED, 1, {
      upgrade(_fresh, _before, _after, change) {
        change.done.catch(() => undefined);
        change.abort();
      },
    });
    const [kept, studied] = await Promise.all([database.getAll("kept"), database.getAll("studied")]);
    database.close();
    return { kept, studied };
  } catch {
    return nothing;
  }
}

/** An export file's content, looked at before any of it is believed; a sentence that says what is wrong otherwise. */
export function readExport(text: string, words: Words["asked"]): Exported | string {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return words.noJson;
  }
  const file = value as Partial<Exported> | null;
  if (
    typeof file !== "object" ||
    file === null ||
    file.form !== "rerig practice 1" ||
    !Array.isArray(file.kept) ||
    !Array.isArray(file.studied)
  )
    return words.noPractice;
  const isText = (each: unknown): each is string => typeof each === "string" && each.length < 10_000;
  const isCount = (each: unknown) => typeof each === "number" && Number.isFinite(each) && each >= 0;
  const isDate = (each: unknown) => isText(each) && !Number.isNaN(Date.parse(each));
  const kept = file.kept.every(
    (entry: Partial<Kept> | null) =>
      entry &&
      [entry.id, entry.platform, entry.document, entry.title, entry.prompt].every(isText) &&
      [entry.revision, entry.answered, entry.missed].every(isCount) &&
      entry.card &&
      isDate(entry.card.due) &&
      (entry.card.last_review === undefined || isDate(entry.card.last_review)) &&
      [
        entry.card.stability,
        entry.card.difficulty,
        entry.card.elapsed_days,
        entry.card.scheduled_days,
        entry.card.learning_steps,
        entry.card.reps,
        entry.card.lapses,
      ].every(isCount) &&
      [0, 1, 2, 3].includes(entry.card.state as number),
  );
  const studied = file.studied.every(
    (entry: Partial<Exported["studied"][number]> | null) =>
      entry && isText(entry.key) && isText(entry.title) && isCount(entry.revision) && isDate(entry.at),
  );
  return kept && studied ? (file as Exported) : words.damaged;
}
