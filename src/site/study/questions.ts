/** The questions of a platform, made once in a build, and as a script file that practice in the browser loads. */
import type { Platform } from "../../schema/collection.ts";
import { asIssued } from "../../domain/force/amendments.ts";
import { type PackedBank, packBank } from "../../domain/study/bank.ts";
import { placeCallouts } from "../../drawing/callouts.ts";
import { type PaperQuestion, drawPaper } from "../../domain/study/paper.ts";
import { listQuestions } from "../../domain/study/questions.ts";
import type { Question } from "../../domain/study/questions/question.ts";
import { photoFor } from "../images.ts";
import { type Worth, worthsOf } from "../../domain/study/worth.ts";
import { modelOf } from "../../domain/states/model.ts";
import { remember } from "../../domain/words/remember.ts";
import { planToSend, type SentPlan } from "./plan-sent.ts";
import type { Site } from "../site.ts";

/** Questions on a printed paper. */
export const PAPER_QUESTIONS = 20;
/** Width of the drawing plane of marks on a photo. */
export const MARK_WIDTH = 420;

/** A photo with the numbers on it, and without what they mean. */
export interface BankPhoto {
  readonly src: string;
  readonly width: number;
  readonly height: number;
  readonly alt: string;
  readonly marks: readonly {
    readonly n: number;
    readonly spot: readonly [number, number];
    readonly at: readonly [number, number];
  }[];
}

/** A document that can be practised, as it is now. */
interface BankDocument {
  readonly kind: "procedure" | "configuration";
  readonly id: string;
  readonly title: string;
  readonly code: string;
  readonly revision: number;
  /** Questions about it. */
  readonly count: number;
}

/** What the script file holds. */
export interface SentBank {
  readonly platform: string;
  readonly documents: readonly BankDocument[];
  readonly photos: Readonly<Record<string, BankPhoto>>;
  /** Plans of arrangements, by the arrangement's name. */
  readonly plans: Readonly<Record<string, SentPlan>>;
  readonly bank: PackedBank;
}

/** Every question of a platform. */
export function questionsOf({ collection }: Site, platform: Platform): readonly Question[] {
  return listQuestions(collection.service, asIssued(platform));
}

/** The worth of each question of a platform, by its id. */
const worthsFor: (site: Site, platform: Platform) => ReadonlyMap<string, Worth> = remember(
  (site: Site, platform: Platform) => {
    const { service, incidents } = site.collection;
    return worthsOf(service, platform, incidents, questionsOf(site, platform));
  },
);

/** The paper that is built in, by the seed `1`. */
export const paperOf: (site: Site, platform: Platform) => readonly PaperQuestion<Question>[] = remember(
  (site: Site, platform: Platform) => drawPaper(questionsOf(site, platform), "1", PAPER_QUESTIONS),
);

/** A photo with its numbered spots; `undefined` if there is no image. */
export function bankPhoto(site: Site, platform: Platform, id: string): BankPhoto | undefined {
  const photo = platform.photos.find((each) => each.id === id);
  const view = photo && photoFor(site, photo);
  if (!view) return undefined;
  const callouts = placeCallouts(view.marks, [], MARK_WIDTH, (MARK_WIDTH * view.height) / view.width);
  const round = ([x, y]: readonly [number, number]): [number, number] => [
    Math.round(x * 10) / 10,
    Math.round(y * 10) / 10,
  ];
  return {
    src: view.src,
    width: view.width,
    height: view.height,
    alt: view.alt,
    marks: callouts.map(({ n, spot, at }) => ({ n, spot: round(spot), at: round(at) })),
  };
}

/** The photos of a question: that which it is about, those that are its answers, and that which is shown with it. */
function photosOf({ kind, photo, shows, key, wrong }: Question): string[] {
  const answers = kind === "picture" ? [...key, ...wrong].map(({ text }) => text) : [];
  return [...answers, photo ?? shows].filter((id) => id !== undefined);
}

/** What a platform's practice page loads. */
export function sentBank(site: Site, platform: Platform): SentBank {
  const questions = questionsOf(site, platform);
  const count = (kind: string, id: string) =>
    questions.filter(({ source }) => source.kind === kind && source.id === id).length;
  const documents = [
    ...platform.configurations.map(({ id, title, code, revision }): BankDocument => ({
      kind: "configuration",
      id,
      title,
      code,
      revision,
      count: count("configuration", id),
    })),
    ...platform.procedures.map(({ id, title, code, revision }): BankDocument => ({
      kind: "procedure",
      id,
      title,
      code,
      revision,
      count: count("procedure", id),
    })),
  ].filter((document) => document.count > 0);
  const ids = [...new Set(questions.flatMap(photosOf))];
  const photos = Object.fromEntries(
    ids.flatMap((id) => {
      const photo = bankPhoto(site, platform, id);
      return photo ? [[id, photo]] : [];
    }),
  );
  const named = new Set(questions.flatMap(({ drawn }) => drawn?.arrangement ?? []));
  const plans = Object.fromEntries(
    modelOf(platform)
      .arrangements.filter(({ name }) => named.has(name))
      .flatMap((arrangement) => {
        const plan = planToSend(platform, arrangement);
        return plan ? [[arrangement.name, plan]] : [];
      }),
  );
  const isOnPlan = ({ arrangement, item }: NonNullable<Question["drawn"]>) =>
    plans[arrangement]?.boxes.some(([on]) => on === item) ?? false;
  return {
    platform: platform.id,
    documents,
    photos,
    plans,
    bank: packBank(
      questions
        .filter((question) => photosOf(question).every((id) => id === question.shows || Object.hasOwn(photos, id)))
        .map(({ drawn, ...question }) => (drawn && isOnPlan(drawn) ? { ...question, drawn } : question)),
      worthsFor(site, platform),
    ),
  };
}
