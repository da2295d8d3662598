/** What search knows of a page beside its text, and what narrows a search. */

/** The kinds of page; `Configuration` is what pages call an arrangement, `Page` what is of no other kind. */
export type FindKind =
  | "Procedure"
  | "Configuration"
  | "Card"
  | "Changeover"
  | "Item"
  | "Place"
  | "Fastening"
  | "Option"
  | "Reading"
  | "Form"
  | "Page"
  | "History"
  | "Check code"
  | "Rule"
  | "Guide";

/** What is known of a page beside its text. */
export interface FindEntry {
  /** Address in the site, without a leading `/`. */
  readonly address: string;
  readonly title: string;
  readonly kind: FindKind;
  readonly platform?: string;
  readonly code?: string;
  /** Who acts on the page, in the service's names. */
  readonly who?: readonly string[];
  readonly critical?: boolean;
  /** What the page is not in force as, in words: `draft`, `withdrawn`; absent of what is in force. */
  readonly standing?: string;
  /** Whether it is withdrawn: what is kept only so that nobody writes it again. */
  readonly gone?: true;
  /** Other names and words that are not on the page. */
  readonly words?: readonly string[];
  /** What the page is for, in a sentence. */
  readonly about?: string;
  /** Whether the page answers a weight with an arrangement. */
  readonly chooses?: true;
  /** Whether the page says what words mean. */
  readonly defines?: true;
  /** Whether the page says what was changed while somebody was away. */
  readonly catchesUp?: true;
  /** What is written as a page of the guide says. */
  readonly writes?: readonly string[];
  /** The kilograms that an arrangement or a procedure is for: from the first to under the second, if there is one. */
  readonly weights?: readonly [from: number, under?: number];
  /** Whether its steps differ by the patient's age. */
  readonly byAge?: true;
  /** Addresses of what the page is made of: the arrangement that is left and the other, a card's, a form's document. */
  readonly of?: readonly string[];
  /** Address of an option -> address and title of the card with it. */
  readonly fitted?: Readonly<Record<string, readonly [address: string, title: string]>>;
  /** What people ask that the page answers. */
  readonly asks?: readonly FindAsk[];
  /** Its steps: the place in the page, the instruction, and what else is said there. */
  readonly parts?: readonly FindPart[];
}

/** A step as search knows it: the place in the page, the instruction, and what else is said there. */
export type FindPart = readonly [anchor: string, text: string, more?: string];

/** A question that a page answers: the place in the page, the question, the answer, and how else it is asked. */
export type FindAsk = readonly [anchor: string, question: string, answer: string, ...others: readonly string[]];

/** The place of a question's own answer, where the page says no more of it elsewhere; counted from 1. */
export const anchorOfAnswer = (number: number): string => `${ANSWER}${number}`;

/** Whether a place is that of a question's own answer. */
export const isAnswerHere = (anchor: string): boolean => anchor.startsWith(ANSWER);

const ANSWER = "asked-";

/** What narrows a search; absent: nothing. */
export interface FindFilters {
  readonly platform?: string;
  readonly who?: string;
  readonly kind?: FindKind;
  readonly critical?: boolean;
}

/** Whether the entry passes the filters. */
export function passes(entry: FindEntry, { platform, who, kind, critical }: FindFilters): boolean {
  return (
    (!platform || entry.platform === platform) &&
    (!who || (entry.who ?? []).includes(who)) &&
    (!kind || entry.kind === kind) &&
    (!critical || entry.critical === true)
  );
}
