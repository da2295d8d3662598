/**
 * A second, naive look at questions: written from the design's sentences with maps of single pieces, kept apart from
 * what made them.
 */
import type { Band, Collection, Platform, Procedure, Range, Service, Step } from "../../../src/schema/collection.ts";
import type { AnswerChoice, Question } from "../../../src/domain/study/questions/question.ts";

/** What is wrong with a question; empty if its key is right and every wrong answer wrong. */
export type Faults = string[];

interface State {
  /** "pin#2" -> place. */
  readonly pieces: Map<string, string>;
  readonly fastenings: Map<string, string>;
}

export const textOf = (nodes: readonly unknown[]): string =>
  (nodes as { kind: string; text?: string; children?: unknown[] }[])
    .map((node) => (node.kind === "break" ? " " : (node.text ?? textOf(node.children ?? []))))
    .join("");
export const said = (step: Step) => textOf(step.instruction.children);
const alike = (text: string) =>
  text
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, " ")
    .trim();
const items = new Map<string, string>();
function itemOf(piece: string): string {
  const item = items.get(piece) ?? piece.slice(0, piece.lastIndexOf("#"));
  items.set(piece, item);
  return item;
}

function inRange({ from, to }: Range, value: bigint): boolean {
  if (from && (value < from.value || (value === from.value && !from.owned))) return false;
  return !(to && (value > to.value || (value === to.value && !to.owned)));
}
export const inBand = (band: Band, weight: bigint | undefined, age: bigint | undefined) =>
  (weight === undefined || inRange(band.weight, weight)) && (age === undefined || inRange(band.age, age));

/** 1 lb = 0.45359237 kg exactly (NIST SP 811); a month is 365.25/12 days. */
export function exactly(told: string): { weight?: bigint; age?: bigint } {
  const weight = /([\d.]+) (kg|lb)/.exec(told),
    age = /(\d+) (day|week|month|year)s? old/.exec(told);
  const scaled = (number: string, places: number) => {
    const [whole = "0", part = ""] = number.split(".");
    return BigInt(whole + part.padEnd(places, "0"));
  };
  const days = { day: 10_000n, week: 70_000n, month: 304_375n, year: 3_652_500n };
  return {
    ...(weight ? { weight: weight[2] === "kg" ? scaled(weight[1]!, 20) : scaled(weight[1]!, 12) * 45_359_237n } : {}),
    ...(age ? { age: BigInt(age[1]!) * days[age[2] as keyof typeof days] * 10n ** 12n } : {}),
  };
}

const MOST_STARTS = 6;

/** A platform seen naively: its arrangements and the states that its approved procedures lead to. */
export class Judge {
  readonly #platform: Platform;
  readonly #service: Service;
  readonly #places: ReadonlyMap<string, Platform["places"][number]>;
  readonly #arrangements = new Map<string, State>();
  #reached: State[] | undefined;
  readonly #known = new Map<string, State[]>();

  constructor({ service }: Collection, platform: Platform) {
    this.#service = service;
    this.#platform = platform;
    this.#places = new Map(platform.places.map((place) => [place.id, place]));
    for (const configuration of platform.configurations) {
      const options = configuration.options.map(({ id }) => platform.options.find((option) => option.id === id)!);
      for (let set = 0; set < 2 ** options.length; set++) {
        const chosen = options.filter((_, at) => set & (1 << at));
        if (chosen.some((a) => chosen.some((b) => a.notWith.includes(b.id)))) continue;
        if (!someone([configuration.band, ...chosen.map(({ band }) => band)])) continue;
        const state = this.#arrange(configuration, chosen);
        if (state) this.#arrangements.set([configuration.id, ...chosen.map(({ id }) => id)].join("+"), state);
      }
    }
  }

  #arrange(configuration: Platform["configurations"][number], options: Platform["options"]): State | undefined {
    let fitted = configuration.fitted.map(({ place, item, count }) => ({ place, item, count }));
    for (const option of options) {
      const gone = new Set([...option.fitted.map(({ place }) => place), ...option.empty.map(({ place }) => place)]);
      fitted = [...fitted.filter(({ place }) => !gone.has(place)), ...option.fitted];
    }
    const pieces = new Map<string, string>();
    for (const item of this.#platform.items) {
      const places = fitted
        .filter((each) => each.item === item.id)
        .flatMap(({ place, count }) => Array<string>(count).fill(place));
      if (places.length > item.count) return undefined;
      for (let at = 0; at < item.count; at++) pieces.set(`${item.id}#${at}`, places[at] ?? item.home);
    }
    for (const { id, room } of this.#platform.places)
      if (room !== undefined && [...pieces.values()].filter((place) => place === id).length > room) return undefined;
    if (fitted.some(({ place }) => !this.#isOn(pieces, place))) return undefined;
    const fastenings = new Map<string, string>();
    for (const fastening of this.#platform.fastenings) {
      if (!this.#counts(pieces, fastening)) continue;
      const named = configuration.fastenings.find((each) => each.fastening === fastening.id)?.state;
      fastenings.set(fastening.id, named ?? this.#rest(pieces, fastening));
    }
    return { pieces, fastenings };
  }

  #isOn(pieces: ReadonlyMap<string, string>, place: string, depth = 0): boolean {
    const record = this.#places.get(place);
    if (!record || depth > 20) return false;
    return record.on === undefined
      ? record.kind !== "store"
      : this.#isOn(pieces, pieces.get(`${record.on}#0`)!, depth + 1);
  }

  /** A state that holds nothing (a valve, a brake) is always there; another counts while a place of it is. */
  #counts(pieces: ReadonlyMap<string, string>, { holds }: Platform["fastenings"][number]): boolean {
    return holds.length === 0 || holds.some((place) => this.#isOn(pieces, place));
  }

  #rest(pieces: ReadonlyMap<string, string>, { holds, secure, whenEmpty }: Platform["fastenings"][number]): string {
    return [...pieces.values()].some((place) => holds.includes(place)) ? secure : (whenEmpty ?? secure);
  }

  readonly #done = new WeakMap<State, Map<Step, State | { readonly at: Step; readonly whys: string[] }>>();

  /**
   * The state after a step, or every condition that one of its moves and turns does not meet; worked out once: many
   * questions ask about the same step in the same state.
   */
  #do(state: State, step: Step): State | { readonly at: Step; readonly whys: string[] } {
    if (step.operations.length === 0) return state;
    const known = this.#done.get(state) ?? new Map<Step, State | { readonly at: Step; readonly whys: string[] }>();
    this.#done.set(state, known);
    const after = known.get(step) ?? this.#work(state, step);
    known.set(step, after);
    return after;
  }

  #work(state: State, step: Step): State | { readonly at: Step; readonly whys: string[] } {
    const pieces = new Map(state.pieces),
      fastenings = new Map(state.fastenings);
    for (const operation of step.operations) {
      if (operation.kind === "turn") {
        if (fastenings.get(operation.fastening) === operation.to)
          return { at: step, whys: [`${this.#fastening(operation.fastening)}: ${operation.to} already`] };
        fastenings.set(operation.fastening, operation.to);
        continue;
      }
      const { item, from, to, count } = operation;
      const record = this.#platform.items.find(({ id }) => id === item)!;
      const there = [...pieces]
        .filter(([piece, place]) => itemOf(piece) === item && place === from)
        .map(([piece]) => piece);
      const holders = this.#platform.fastenings.filter(
        (each) =>
          (each.holds.includes(from) || each.holds.includes(to)) &&
          each.holds.some((place) => this.#isOn(pieces, place)) &&
          fastenings.get(each.id) === each.secure,
      );
      const onIt = !record.carries && [...pieces.values()].some((place) => record.places.includes(place));
      const room = this.#places.get(to)?.room ?? Infinity;
      const whys = [
        ...(there.length === 0
          ? [`${record.name}: none in this place, ${this.#place(from)}`]
          : there.length < count
            ? [`${record.name}: too few in this place, ${this.#place(from)}`]
            : []),
        ...holders.map(({ id, secure }) => `It is still held: ${this.#fastening(id)}, ${secure}`),
        ...(onIt ? [`${record.name}: something is still in it or on it`] : []),
        ...(from !== to && [...pieces.values()].filter((place) => place === to).length + count > room
          ? [`No room in this place: ${this.#place(to)}`]
          : []),
      ];
      if (whys.length || this.#standsIn(pieces, item, to)) return { at: step, whys };
      const before = this.#platform.fastenings.filter((each) => this.#counts(pieces, each));
      for (const piece of there.slice(0, count)) pieces.set(piece, to);
      for (const each of this.#platform.fastenings)
        if (!before.includes(each) && this.#counts(pieces, each)) fastenings.set(each.id, this.#rest(pieces, each));
    }
    return { pieces, fastenings };
  }

  #standsIn(pieces: ReadonlyMap<string, string>, item: string, place: string, depth = 0): boolean {
    const on = this.#places.get(place)?.on;
    if (on === undefined || depth > 20) return false;
    return on === item || this.#standsIn(pieces, item, pieces.get(`${on}#0`)!, depth + 1);
  }

  #place(id: string): string {
    return this.#platform.places.find((place) => place.id === id)?.name ?? "put down within reach";
  }
  #fastening(id: string): string {
    return this.#platform.fastenings.find((fastening) => fastening.id === id)!.name;
  }

  /** What is left wrong at the end of these steps: sentences; empty if all is well. */
  #leftWrong(state: State, steps: readonly Step[]): string[] {
    const wrong: string[] = [];
    for (const [piece, place] of state.pieces)
      if (place === "aside")
        wrong.push(`left lying about: ${this.#platform.items.find(({ id }) => id === itemOf(piece))!.name}`);
    const touched = this.#touchedBy(steps);
    for (const fastening of this.#platform.fastenings) {
      if (!touched.has(fastening.id) || !this.#counts(state.pieces, fastening)) continue;
      const now = state.fastenings.get(fastening.id)!;
      if (now !== this.#rest(state.pieces, fastening) && !this.#isNamed(fastening, now, state))
        wrong.push(`left wrong: ${fastening.name}, ${now}`);
    }
    return [...new Set(wrong)];
  }

  readonly #touched = new WeakMap<readonly Step[], ReadonlySet<string>>();

  /** Fastenings that steps turn, or from whose places they take or put something. */
  #touchedBy(steps: readonly Step[]): ReadonlySet<string> {
    const known = this.#touched.get(steps);
    if (known) return known;
    const touched = new Set(
      steps.flatMap(({ operations }) =>
        operations.flatMap((operation) =>
          operation.kind === "turn"
            ? [operation.fastening]
            : this.#platform.fastenings
                .filter(({ holds }) => holds.includes(operation.from) || holds.includes(operation.to))
                .map(({ id }) => id),
        ),
      ),
    );
    this.#touched.set(steps, touched);
    return touched;
  }

  /** Whether an arrangement that holds the same there names this state of the fastening. */
  #isNamed(fastening: Platform["fastenings"][number], now: string, { pieces }: State): boolean {
    return [...this.#arrangements].some(([name, arrangement]) => {
      const configuration = this.#platform.configurations.find(({ id }) => id === name.split("+")[0])!;
      return (
        configuration.fastenings.some((each) => each.fastening === fastening.id && each.state === now) &&
        this.#inside(arrangement.pieces, fastening) === this.#inside(pieces, fastening)
      );
    });
  }

  readonly #held = new WeakMap<ReadonlyMap<string, string>, Map<string, string>>();

  /** What stands in the places that a fastening holds, in words; said once. */
  #inside(pieces: ReadonlyMap<string, string>, { id, holds }: Platform["fastenings"][number]): string {
    const known = this.#held.get(pieces) ?? new Map<string, string>();
    this.#held.set(pieces, known);
    const text =
      known.get(id) ??
      [...pieces]
        .filter(([, place]) => holds.includes(place))
        .map(([piece, place]) => `${itemOf(piece)} ${place}`)
        .sort()
        .join();
    known.set(id, text);
    return text;
  }

  /** Every state that arrangements and approved procedures lead to. */
  #states(): State[] {
    if (this.#reached) return this.#reached;
    const keyOf = (state: State) => this.#keyOf(state);
    const seen = new Map([...this.#arrangements.values()].map((state) => [keyOf(state), state]));
    const programs = this.#platform.procedures
      .filter(({ status }) => status === "approved")
      .flatMap((procedure) => this.#variants(procedure))
      .filter((steps) => steps.some(({ operations }) => operations.length > 0));
    for (const state of seen.values())
      for (const steps of programs) {
        const end = this.#runAll(state, steps);
        if (!end || "at" in end) continue;
        const settled = this.#settle(end);
        const key = keyOf(settled);
        if (!seen.has(key)) seen.set(key, settled);
        if (seen.size > 20_000) throw new Error("too many states for a naive look");
      }
    return (this.#reached = [...seen.values()]);
  }

  /** A fastening whose place is not on the platform is at rest until it is turned. */
  #rouse(state: State): State {
    const known = this.#roused.get(state);
    if (known) return known;
    const { pieces, fastenings } = state,
      all = new Map(fastenings);
    for (const each of this.#platform.fastenings) if (!all.has(each.id)) all.set(each.id, this.#rest(pieces, each));
    const roused = { pieces, fastenings: all };
    this.#roused.set(state, roused);
    return roused;
  }

  readonly #roused = new WeakMap<State, State>();

  #settle({ pieces, fastenings }: State): State {
    return {
      pieces,
      fastenings: new Map(
        [...fastenings].filter(([id]) =>
          this.#counts(
            pieces,
            this.#platform.fastenings.find((each) => each.id === id)!,
          ),
        ),
      ),
    };
  }

  /** The end state if all can be done and is left well; where it stops; `undefined` if it ends badly. */
  #runAll(start: State, steps: readonly Step[]): State | { readonly at: Step; readonly whys: string[] } | undefined {
    let state = this.#rouse(start);
    for (const step of steps) {
      const next = this.#do(state, step);
      if ("at" in next) return next;
      state = next;
    }
    return this.#leftWrong(state, steps).length ? undefined : state;
  }

  #variants(procedure: Procedure): Step[][] {
    const bands = [procedure.band, ...procedure.steps.map(({ band }) => band), this.#service.band];
    const near = (ranges: readonly Range[]) => [
      ...new Set([
        0n,
        ...ranges.flatMap(({ from, to }) =>
          [from, to].flatMap((end) => (end ? [end.value - 1n, end.value, end.value + 1n] : [])),
        ),
      ]),
    ];
    const sets = new Map<string, Step[]>();
    for (const weight of near(bands.map(({ weight }) => weight)))
      for (const age of near(bands.map(({ age }) => age))) {
        if (!inBand(this.#service.band, weight, age) || !inBand(procedure.band, weight, age)) continue;
        const steps = procedure.steps.filter(
          ({ band, procedure: own }) =>
            inBand(band, weight, age) &&
            inBand(this.#platform.procedures.find(({ id }) => id === own)!.band, weight, age),
        );
        sets.set(steps.map(({ number }) => number).join(), steps);
      }
    return [...sets.values()];
  }

  readonly #keys = new WeakMap<State, string>();
  readonly #numbers = new Map<string, number>();

  /** A number for what is where and how every fastening stands. */
  #keyOf(state: State): string {
    const known = this.#keys.get(state);
    if (known) return known;
    const text = `${[...state.pieces]
      .map(([piece, place]) => `${itemOf(piece)} ${place}`)
      .sort()
      .join()};${[...state.fastenings].sort().join()}`;
    if (!this.#numbers.has(text)) this.#numbers.set(text, this.#numbers.size);
    const key = String(this.#numbers.get(text));
    this.#keys.set(state, key);
    return key;
  }

  readonly #answers = new Map<string, boolean>();

  /** States in which the steps run as written. */
  #starts(steps: readonly Step[]): State[] {
    const key = steps.map((step) => `${step.procedure} ${step.number} ${said(step)}`).join("\n");
    const known = this.#known.get(key);
    if (known) return known;
    const found = this.#states().filter((state) => {
      const end = this.#runAll(state, steps);
      return end !== undefined && !("at" in end);
    });
    // So many, evenly spread, are enough for a second look; the first look takes all.
    const some = found.filter((_, at) => at % Math.ceil(found.length / MOST_STARTS) === 0);
    this.#known.set(key, some);
    return some;
  }

  /**
   * Whether, from some start, the steps can be done to a good end with those at `first` done first, in that order, and
   * `b` before `a` if a pair is given.
   */
  #canBeDone(
    steps: readonly Step[],
    starts: readonly State[],
    first: readonly number[],
    pair?: readonly [a: number, b: number],
  ): boolean {
    const told = steps.map((step) => `${step.procedure} ${step.number} ${said(step)}`).join("\n");
    const question = `${told};${first.join()};${pair?.join() ?? ""}`;
    const known = this.#answers.get(question);
    if (known !== undefined) return known;
    const mayFollow = (done: ReadonlySet<number>, at: number) => {
      const step = steps[at]!;
      return (
        steps.every((other, index) => index >= at || done.has(index) || !(step.hold || other.hold)) &&
        step.after.every(({ id }) => {
          const named = steps.slice(0, at).findLastIndex((other) => other.id === id);
          // One look before another is a habit, where nothing is done and nobody waits (common practice, no source).
          const isHabit = named >= 0 && steps[named]!.procedure === step.procedure && this.#onlyLooks(step.procedure);
          return named < 0 || done.has(named) || isHabit;
        })
      );
    };
    const answer = starts.some((start) => {
      const dead = new Set<string>();
      const go = (state: State, done: ReadonlySet<number>): boolean => {
        if (done.size === steps.length) return this.#leftWrong(state, steps).length === 0;
        const key = `${[...done].sort((a, b) => a - b).join()};${this.#keyOf(state)}`;
        if (dead.has(key)) return false;
        const next =
          done.size < first.length
            ? [first[done.size]!]
            : steps.map((_, at) => at).filter((at) => !done.has(at) && (!pair || at !== pair[0] || done.has(pair[1])));
        for (const at of next) {
          if (!mayFollow(done, at)) continue;
          const after = this.#do(state, steps[at]!);
          if (!("at" in after) && go(after, new Set([...done, at]))) return true;
        }
        dead.add(key);
        return false;
      };
      return go(this.#rouse(start), new Set());
    });
    this.#answers.set(question, answer);
    return answer;
  }

  /** Whether a procedure is a round of looks: it moves and turns nothing, and nobody waits for any of it. */
  #onlyLooks(id: string): boolean {
    const known =
      this.#looks.get(id) ??
      this.#platform.procedures
        .flatMap(({ steps }) => steps)
        .filter(({ procedure }) => procedure === id)
        .every(({ operations, checks, hold }) => operations.length === 0 && checks.length > 0 && !hold);
    this.#looks.set(id, known);
    return known;
  }

  readonly #looks = new Map<string, boolean>();

  /** Judges one question. */
  prove(question: Question): Faults {
    const faults: Faults = [];
    const texts = [...question.key, ...question.wrong].map(({ text }) => alike(text));
    if (new Set(texts).size !== texts.length) faults.push("two answers read alike");
    if (texts.some((text) => text === "")) faults.push("an empty answer");
    if (question.kind !== "order" && (question.key.length !== 1 || question.wrong.length < 2))
      faults.push("not one key and two wrong answers");
    if (question.kind === "order") return [...faults, ...this.#proveOrder(question)];
    const isRight = this.#truth(question);
    for (const choice of question.key) if (!isRight(choice)) faults.push(`the key is not right: ${choice.text}`);
    for (const choice of question.wrong) if (isRight(choice)) faults.push(`a wrong answer is right: ${choice.text}`);
    return faults;
  }

  /** Which answers to the question are right. */
  #truth(question: Question): (choice: AnswerChoice) => boolean {
    const { asks, kind, source } = question;
    const platform = this.#platform;
    const procedure = platform.procedures.find(({ id }) => id === (asks["procedure"] ?? source.id));
    const steps =
      asks["steps"] && procedure
        ? asks["steps"].split(" ").map((number) => procedure.steps[Number(number) - 1]!)
        : (procedure?.steps ?? []);
    const arrangement = this.#arrangements.get(asks["arrangement"] ?? "");
    switch (kind) {
      case "arrangement": {
        const { weight, age } = exactly(question.prompt);
        const right = platform.configurations.filter(({ band }) => inBand(band, weight, age));
        return ({ text }) => (right.length ? right.some(({ title }) => title === text) : /^None/.test(text));
      }
      case "option": {
        const configuration = platform.configurations.find(({ id }) => id === asks["configuration"])!;
        const { weight, age } = exactly(asks["told"] ?? "");
        const beside = platform.options.find(({ id }) => id === asks["beside"]);
        return ({ text }) => {
          const option = platform.options.find(
            ({ id, title }) => title === text && configuration.options.some((each) => each.id === id),
          )!;
          return beside
            ? option.notWith.includes(beside.id) || beside.notWith.includes(option.id)
            : !inBand(option.band, weight, age);
        };
      }
      case "applies": {
        const { weight, age } = exactly(asks["told"]!);
        return ({ text }) => procedure!.steps.some((step) => said(step) === text && inBand(step.band, weight, age));
      }
      case "next": {
        const done = Number(asks["done"]);
        const starts = this.#starts(steps);
        const first = Array.from({ length: done }, (_, at) => at);
        return ({ text }) =>
          steps.some((step, at) => at >= done && said(step) === text && this.#canBeDone(steps, starts, [...first, at]));
      }
      case "missing": {
        if (asks["card"]) {
          const card = platform.configurations.find(({ id }) => id === asks["card"])!;
          return ({ text }) =>
            card.checks.some(({ challenge }) => challenge === text) && !question.given.includes(text);
        }
        if (arrangement) {
          const aboard = (name: string) =>
            [...arrangement.pieces].some(
              ([piece, place]) =>
                platform.items.find(({ id }) => id === itemOf(piece))!.name === name &&
                this.#isOn(arrangement.pieces, place),
            );
          return ({ text }) => aboard(text) && !question.given.some((line) => line.replace(/^\d+ × /, "") === text);
        }
        // A step that stands outside the stretch, and in no order that can be done inside it, is not what is left out.
        const at = (text: string) => steps.findIndex((step) => said(step) === text);
        const [first, last] = [at(question.given[0]!), at(question.given.at(-1)!)];
        const starts = this.#starts(steps);
        return ({ text }) => {
          const step = at(text),
            key = at(question.key[0]!.text);
          if (step < 0 || question.given.includes(text)) return false;
          // At an end of the stretch nothing tells that a step is missing: the one at the other end would do as well.
          if (key < first || key > last) return true;
          if (step > first && step < last) return true;
          return this.#canBeDone(steps, starts, [], step < first ? [step, first] : [last, step]);
        };
      }
      case "home": {
        // A place that carries the right one is not wrong either: what is in a pouch on a capsule in the kit room is in
        // the kit room.
        const around = new Set<string>();
        for (const [piece, place] of arrangement!.pieces) {
          if (itemOf(piece) !== asks["item"]) continue;
          for (let at: string | undefined = place, depth = 0; at && depth < 20; depth++) {
            around.add(this.#place(at));
            const on = platform.places.find(({ id }) => id === at)!.on;
            at = on && arrangement!.pieces.get(`${on}#0`);
          }
        }
        return ({ text }) => around.has(text);
      }
      case "count": {
        const count = [...arrangement!.pieces].filter(
          ([piece, place]) => itemOf(piece) === asks["item"] && place === asks["place"],
        ).length;
        return ({ text }) => (text === "None" ? 0 : Number(text)) === count;
      }
      case "check": {
        const [documentKind, id] = asks["document"]!.split(" ");
        const checks =
          documentKind === "configuration"
            ? platform.configurations.find((each) => each.id === id)!.checks
            : platform.procedures.find((each) => each.id === id)!.steps.flatMap((step) => step.checks);
        return ({ text }) => checks.some(({ challenge, answer }) => challenge === asks["challenge"] && answer === text);
      }
      case "reason":
        return ({ text }) => {
          const { reason } = procedure!.steps.find(({ number }) => String(number) === asks["step"])!;
          return alike(textOf(reason!.children)) === alike(text);
        };
      case "critical":
        return ({ text }) => procedure!.steps.some((step) => said(step) === text && step.critical);
      case "who": {
        const { by } = procedure!.steps.find(({ number }) => String(number) === asks["step"])!;
        return ({ means }) => [...by].sort().join(" ") === means;
      }
      case "photo":
      case "mark": {
        const marks = platform.photos.find(({ id }) => id === asks["photo"])!.marks;
        return ({ text }) =>
          kind === "photo"
            ? marks.some(({ n, label }) => String(n) === text && label === asks["label"])
            : marks.some(({ n, label }) => String(n) === asks["n"] && label === text);
      }
      case "picture": {
        const { photos } = procedure!.steps.find(({ number }) => String(number) === asks["step"])!;
        return ({ text }) => photos.some(({ id }) => id === text);
      }
      case "left-out":
        return this.#leftOut(steps, asks["step"]!);
      default:
        throw new Error(`no naive look at ${kind}`);
    }
  }

  /** Whether a sentence about a step left out is true from every start. */
  #leftOut(steps: readonly Step[], left: string): (choice: AnswerChoice) => boolean {
    const rest = steps.filter(({ number }) => String(number) !== left);
    const cases = this.#starts(steps).map((start) => ({ start, whole: this.#runAll(start, steps) as State }));
    return ({ text }) =>
      cases.length > 0 &&
      cases.every(({ start, whole }) => {
        let state = this.#rouse(start);
        for (const step of rest) {
          const next = this.#do(state, step);
          if ("at" in next) {
            const claim = /^It stops at “(.*)” (.*?)\.?$/.exec(text);
            return claim !== null && claim[1] === said(next.at) && next.whys.includes(claim[2]!);
          }
          state = next;
        }
        const claim = /^Nothing stops you, and (.*?)\.$/.exec(text)?.[1];
        if (!claim) return false;
        const wrong = /at the end this is wrong: (.*), (.*)$/.exec(claim);
        if (wrong) {
          const id = this.#platform.fastenings.find(({ name }) => name === wrong[1])!.id;
          return (
            this.#settle(state).fastenings.get(id) === wrong[2] &&
            (this.#leftWrong(state, rest).includes(`left wrong: ${wrong[1]}, ${wrong[2]}`) ||
              this.#settle(whole).fastenings.get(id) !== wrong[2])
          );
        }
        const behind = /left behind: (.*), in this place: (.*)$/.exec(claim);
        if (behind) {
          const count = ({ pieces }: State) =>
            [...pieces].filter(
              ([piece, place]) =>
                this.#platform.items.find(({ id }) => id === itemOf(piece))!.name === behind[1] &&
                this.#place(place) === behind[2],
            ).length;
          return count(state) > count(whole);
        }
        const loose = /left lying about: (.*)$/.exec(claim);
        return loose !== null && this.#leftWrong(state, rest).includes(`left lying about: ${loose[1]}`);
      });
  }

  #proveOrder({ key, asks }: Question): Faults {
    const procedure = this.#platform.procedures.find(({ id }) => id === asks["procedure"])!;
    const steps = asks["steps"]!.split(" ").map((number) => procedure.steps[Number(number) - 1]!);
    const starts = this.#starts(steps);
    const lines = key.map(({ text }) => steps.findIndex((step) => said(step) === text));
    const faults =
      lines.some((at) => at < 0) || starts.length === 0 ? ["a line is no step, or the procedure runs nowhere"] : [];
    for (let at = 1; at < lines.length; at++)
      if (faults.length === 0 && this.#canBeDone(steps, starts, [], [lines[at - 1]!, lines[at]!]))
        faults.push(`line ${at + 1} can come before line ${at}`);
    return faults;
  }
}

function someone(bands: readonly Band[]): boolean {
  const near = (ranges: readonly Range[]) => [
    1n,
    ...ranges.flatMap(({ from, to }) =>
      [from, to].flatMap((end) => (end ? [end.value - 1n, end.value, end.value + 1n] : [])),
    ),
  ];
  return near(bands.map(({ weight }) => weight)).some((weight) =>
    near(bands.map(({ age }) => age)).some((age) => bands.every((band) => inBand(band, weight, age))),
  );
}
