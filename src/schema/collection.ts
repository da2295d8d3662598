/**
 * The compiled collection: what the files of an educator mean, with the place of every value that a finding may have to
 * point at.
 */

import type { Term, TermName } from "./terms.ts";

/**
 * Words in a file of the collection. Lines and columns count from 1; `file` is relative to the collection, with `/`.
 */
export interface Where {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  /** Where the words end: the place after their last character. Absent where only their beginning is known. */
  readonly end?: Point;
}

/** A line and a column, both from 1. */
interface Point {
  readonly line: number;
  readonly column: number;
}

/**
 * Places of a record's fields by key; nested keys are joined by dots (`limits.mass`, `changes.0.date`). See `whereOf`.
 */
export type At = Readonly<Record<string, Where>>;

/** What every record has: where it begins, and where its fields stand. */
interface Located {
  readonly where: Where;
  readonly at: At;
}

/**
 * One end of a range. `value` is exact: masses in units of 1e-20 kg (so that pounds to twelve decimals need no
 * rounding,
 * 1 lb = 0.45359237 kg exactly, NIST SP 811), ages in units of 1e-16 day (1 month = 365.25/12 days).
 */
export interface End {
  readonly value: bigint;
  readonly owned: boolean;
  /** The author's words for the value, with its unit: `5 kg`. */
  readonly text: string;
}

/**
 * Weights or ages from one end to the other; a missing end is open without limit. `text` is in the words of the design
 * (`from 5 kg to under 40 kg`, `any weight`).
 */
export interface Range {
  readonly from?: End;
  readonly to?: End;
  readonly text: string;
}

/** The patients that something is for. */
export interface Band {
  readonly weight: Range;
  readonly age: Range;
}

/** How grave a finding is: with an error nothing is built. */
export type Severity = "error" | "warning";
/** What a file may say of itself; `coming` is said of an approved issue whose day has not come (`domain/force`). */
export type Status = "draft" | "in review" | "approved" | "withdrawn" | "coming";
/** What a revision does to sign-offs given before it: they are asked for again, or stand. */
export type SignOffs = "again" | "stand";
/** The paper of a service's cards. */
export type Paper = "A4" | "A5" | "A6";

/** A role of the crew, not a person; a service has at least one. */
export interface Crew extends Located {
  readonly id: string;
  readonly name: string;
}

/** Patients of whom the service asks before it answers. */
interface Doubt extends Located {
  readonly band: Band;
  /** What to do, in the service's words; it is read back before anything else is answered. */
  readonly say: string;
  /** Configurations to have at hand; empty if none is named. */
  readonly fetch: readonly Reference[];
}

/** A flow of gas that the endurance of a supply is reckoned for. */
interface Demand extends Located {
  readonly name: string;
  /** Litres a minute, at 1 bar. */
  readonly litres: number;
  /** Ids of the items whose contents feed it, on any platform; empty: whatever has contents. */
  readonly from: readonly Reference[];
}

/** `service.yaml`: who carries whom, and what the service decides for all its platforms. */
export interface Service extends Located {
  readonly name: string;
  readonly language: string;
  /** Address of the published site, with a closing `/`; absent when not given. */
  readonly site?: string;
  readonly band: Band;
  readonly crew: readonly Crew[];
  readonly policy: Readonly<Record<string, Severity | "off">>;
  /** For how many days, first and last included, a temporary amendment may run; absent: `AMENDMENT_DAYS`. */
  readonly amendmentDays?: number;
  readonly cards: { readonly paper: Paper; readonly laminate: boolean };
  /** The service's own nouns in the place of the program's; absent where it names none. */
  readonly words?: { readonly [Name in TermName]?: Term };
  /** The service's own word -> other names for it. */
  readonly otherNames: Readonly<Record<string, readonly string[]>>;
  /** The service's own words -> what is typed by who looks for them, beside other names; absent where none is given. */
  readonly searched?: Readonly<Record<string, readonly string[]>>;
  readonly chooser: boolean;
  /** In the order of the file; absent where nothing is in doubt. */
  readonly doubts?: readonly Doubt[];
  /** In the order of the file; absent where none is named. */
  readonly demands?: readonly Demand[];
  /** What endurance is divided by, from 1; absent: nothing is kept in reserve. */
  readonly reserve?: number;
  /** Where the service has several platforms: a card says whose it is. Absent where it has one. */
  readonly hasSeveral?: true;
}

/** How often somebody looks at a thing: each shift, day or week, or before and after each run. */
export type Every = "shift" | "day" | "week" | "run";
/** What a thing needs after a run in which it was used. */
export type AfterRun = "clean" | "charge" | "refill" | "reseal";

/** A line of the readiness sheet: what must be seen, how often, and until when it is good; one of the two, or both. */
export interface ReadyLine {
  readonly every?: Every;
  readonly look: string;
  /** The last day on which it is good, `YYYY-MM-DD`: expiry, or the date by which it is serviced. */
  readonly until?: string;
  readonly where: Where;
  readonly at: At;
}

/** What items and places share: lines of the readiness sheet, and what is done after a run; absent where none is. */
interface Readied {
  readonly ready?: readonly ReadyLine[];
  readonly afterRun?: readonly AfterRun[];
}

type PlaceKind = "mount" | "stowage" | "store";

/** Where pieces can be: a mount, a stowage or a store. `aside` is none of them. */
export interface Place extends Located, Readied {
  readonly id: string;
  readonly name: string;
  readonly kind: PlaceKind;
  /** Millimetres from the datum; absent when not given. */
  readonly xMm?: number;
  readonly yMm?: number;
  /** For a place on an item: millimetres from where the item stands. */
  readonly dxMm?: number;
  readonly dyMm?: number;
  /** How many pieces it takes; absent: no limit. */
  readonly room?: number;
  /** The item that the place is on; absent for the platform's own places and stores. */
  readonly on?: string;
  /** For a store: seconds of the way to it from where the platform is rebuilt, one way; absent when not given. */
  readonly walkSeconds?: number;
}

/** What a fastening is, as far as its drawing and the order of the trade ask. */
export type FasteningKind = "strap" | "clasp" | "pin" | "lever" | "valve" | "lead" | "brake" | "switch";
/** The directions of loads, as `factors` names them. */
export type Direction = "forward" | "rearward" | "sideward" | "upward" | "downward";

/** What is turned from state to state; in `secure` it holds what is in its places. */
export interface Fastening extends Located {
  readonly id: string;
  readonly name: string;
  readonly states: readonly string[];
  readonly secure: string;
  /** Ids of places; empty for a state that holds nothing (a valve, a plug, a brake). */
  readonly holds: readonly string[];
  readonly whenEmpty?: string;
  /** Rated strength in newtons; absent when not given. */
  readonly ratedN?: number;
  /** Absent when not given. */
  readonly kind?: FasteningKind;
  /** The directions in which it holds and is rated; absent: all of them. */
  readonly against?: readonly Direction[];
}

/** A kind of equipment, of which there are `count` pieces in all. */
export interface Item extends Located, Readied {
  readonly id: string;
  readonly name: string;
  readonly count: number;
  /** Mass of one piece; absent when not given. */
  readonly massKg?: number;
  readonly home: string;
  readonly carries: boolean;
  /** Rated patient weight, for what holds a patient. */
  readonly restrains?: Range;
  /** This model in use since; `YYYY-MM-DD`. */
  readonly replaced?: string;
  /** Litres of gas at 1 bar in one full piece; absent when not given. */
  readonly contentsLitres?: number;
  /** Seconds that one piece runs by itself when fully charged; absent when not given. */
  readonly runsSeconds?: number;
  /** Ids of the places on it. */
  readonly places: readonly string[];
}

/** An entry of `changes`: what a revision changed, on which day (`YYYY-MM-DD`), by whom. */
export interface Change extends Located {
  readonly revision: number;
  readonly date: string;
  readonly by: string;
  readonly summary: string;
  readonly reason?: string;
  readonly signOffs?: SignOffs;
  /** Ids of steps that are to be seen again because of it, whatever else says so. */
  readonly steps?: readonly string[];
}

/** What procedures, configurations and options share as controlled documents. Dates are `YYYY-MM-DD`. */
export interface Controlled extends Located {
  readonly id: string;
  /** The platform's id. */
  readonly platform: string;
  /** File, relative to the collection. */
  readonly file: string;
  readonly title: string;
  readonly code: string;
  readonly revision: number;
  readonly status: Status;
  readonly effective?: string;
  readonly reviewBy?: string;
  readonly owner?: string;
  readonly approvedBy?: string;
  readonly changes: readonly Change[];
  readonly band: Band;
}

/** Pieces of an item in a place. */
export interface Fitted {
  readonly place: string;
  readonly item: string;
  readonly count: number;
  readonly where: Where;
}

interface Authority extends Located {
  /** maker, operator, aviation, clinical …: the author's word. */
  readonly kind: string;
  readonly reference: string;
  readonly date?: string;
}

/** An option without which some patients are not carried. */
export interface Requirement {
  readonly option: string;
  /** For whom; it may reach beyond the configuration's own band. */
  readonly band: Band;
  readonly where: Where;
}

/** An arrangement of the platform for some patients, before any option is fitted. */
export interface Configuration extends Controlled {
  readonly authority: readonly Authority[];
  readonly standing: boolean;
  readonly fitted: readonly Fitted[];
  /** Fastenings that are not as the rule says (secure when in use, else when-empty). */
  readonly fastenings: readonly { readonly fastening: string; readonly state: string; readonly where: Where }[];
  readonly options: readonly { readonly id: string; readonly where: Where }[];
  /** Options that some of its patients need; absent where none is. */
  readonly requires?: readonly Requirement[];
  readonly checks: readonly Check[];
  readonly body: readonly Block[];
}

/** What may be fitted to a configuration in addition: it takes the place of what stands there. */
export interface Option extends Controlled {
  readonly fitted: readonly Fitted[];
  readonly empty: readonly { readonly place: string; readonly where: Where }[];
  readonly notWith: readonly string[];
  readonly checks: readonly Check[];
  readonly body: readonly Block[];
}

/** A challenge with its answer. `by` holds crew role ids; empty: nobody named. */
export interface Check extends Located {
  readonly challenge: string;
  readonly answer: string;
  readonly by: readonly string[];
  /** Ids of the items, places and fastenings that it is about; absent if the challenge itself is to tell. */
  readonly about?: readonly string[];
  /** The challenge of the configuration's line in whose place it is read while its option is fitted. */
  readonly replaces?: string;
}

/** Pieces of an item carried from one place to another. */
export interface Move {
  readonly kind: "move";
  readonly item: string;
  readonly count: number;
  readonly from: string;
  readonly to: string;
  readonly where: Where;
  readonly at: At;
}

/** A fastening turned to one of its states. */
export interface Turn {
  readonly kind: "turn";
  readonly fastening: string;
  readonly to: string;
  readonly where: Where;
  readonly at: At;
}

/** What a step does to the parts; anything else that it says is words. */
export type Operation = Move | Turn;

/** A reference as an author wrote it. */
export interface Reference {
  readonly id: string;
  readonly where: Where;
}

/** What marks words that are a temporary amendment's: its number and its first and last day, `YYYY-MM-DD`. */
export interface AmendmentMark {
  readonly number: string;
  readonly from: string;
  readonly until: string;
}

/** A signal word's block. WARNING: injury to people; CAUTION: damage to equipment; NOTE informs. */
export interface Alert {
  readonly kind: "alert";
  readonly signal: "warning" | "caution" | "note";
  readonly children: readonly Block[];
  readonly where: Where;
  /** Whose it is, if a temporary amendment adds it (`domain/force`); absent otherwise. */
  readonly amendment?: AmendmentMark;
}

/** A step of a procedure, with all that its author gave it. */
export interface Step extends Located {
  readonly kind: "step";
  /** Counts from 1 within its procedure, over all its sections (included steps count where they run). */
  readonly number: number;
  /** The author's `#id`; absent when not given. */
  readonly id?: string;
  /** The procedure that wrote the step: another one's id for an included step. */
  readonly procedure: string;
  /** Crew role ids; `both` and `all` are written out. Empty when the author left it out. */
  readonly by: readonly string[];
  readonly critical: boolean;
  readonly hold: boolean;
  readonly photos: readonly Reference[];
  readonly takesSeconds: number;
  /** Whether the author gave `takes`; 20 s is assumed otherwise. */
  readonly takesGiven: boolean;
  /** The step's own band, `undefined` parts fall back on the procedure's: see `band`. */
  readonly ownWeight?: Range;
  readonly ownAge?: Range;
  /** For whom the step is: its own ranges, else the procedure's. It may reach beyond the procedure's. */
  readonly band: Band;
  readonly after: readonly Reference[];
  readonly guards: readonly Reference[];
  /** Why nobody can notice a slip of it, and what stands instead; absent if the author gave no reason. */
  readonly unnoticed?: string;
  /** Warnings, cautions and notes of the step, in order; `alertsAfter` holds those that stand after the instruction. */
  readonly alerts: readonly Alert[];
  readonly alertsAfter: readonly Alert[];
  readonly instruction: Paragraph;
  /** The paragraph that begins `Why:`, without that word. */
  readonly reason?: Paragraph;
  readonly detail: readonly Block[];
  readonly operations: readonly Operation[];
  readonly checks: readonly Check[];
  /** Where it says that the card of the arrangement is read (`::card`); absent if it is not. */
  readonly readsCard?: Where;
  /** In an amendment: the id of the step in whose place it is done while the amendment runs. */
  readonly replaces?: Reference;
  /** The step as it was issued, if a temporary amendment replaces it on this day (`domain/force`). */
  readonly amended?: { readonly by: AmendmentMark; readonly asIssued: Step };
}

/** Where a procedure runs the steps of another one. */
export interface Include {
  readonly kind: "include";
  readonly procedure: string;
  readonly where: Where;
  /**
   * The steps that run there: the included procedure's own, numbered on. Empty if it is unknown or goes in a circle.
   */
  readonly steps: readonly Step[];
}

/** What stands under one heading of a procedure, in order. */
export interface Section {
  /** Heading text; empty for what stands before the first heading. */
  readonly title: string;
  readonly where: Where;
  readonly entries: readonly (Step | Include | Alert | Block)[];
}

/** Where in a changeover a procedure belongs, in the order of the trade. */
export type Phase = "confirm" | "take away" | "clean" | "build" | "option" | "supply";

/** What is done, step by step, for the patients of a band. */
export interface Procedure extends Controlled {
  /** As its author says it; absent: worked out from what it does. */
  readonly phase?: Phase;
  /** The text before the first heading. */
  readonly purpose: readonly Block[];
  readonly sections: readonly Section[];
  /** Every step in order, included ones in place. */
  readonly steps: readonly Step[];
  /** The procedure as it was issued, if a temporary amendment changes it; absent otherwise (`domain/force`). */
  readonly asIssued?: Procedure;
}

/** A revision of a procedure that an amendment is about. */
interface Amended {
  readonly procedure: string;
  readonly revision: number;
  readonly where: Where;
}

/** A temporary amendment: it changes procedures and takes items out of service from its first to its last day. */
export interface Amendment extends Located {
  readonly id: string;
  readonly platform: string;
  /** File, relative to the collection. */
  readonly file: string;
  readonly number: string;
  readonly title: string;
  readonly reason: string;
  /** First and last day, `YYYY-MM-DD`; empty if the file does not say it (a finding does). */
  readonly from: string;
  readonly until: string;
  /** Its author. */
  readonly owner: string;
  readonly approvedBy: string;
  /** Empty if it only takes items out of service. */
  readonly amends: readonly Amended[];
  /** Items of which every piece is out of service while it runs. */
  readonly out: readonly Reference[];
  /** Warnings, cautions and notes, read before the first step of each procedure that it is about. */
  readonly alerts: readonly Alert[];
  /** Steps, each with the id of the one that it `replaces`. */
  readonly steps: readonly Step[];
  /** What else it says. */
  readonly body: readonly Block[];
}

interface Mark {
  readonly n: number;
  readonly x: number;
  readonly y: number;
  readonly label: string;
  readonly where: Where;
}

/** A photo with its sidecar; x and y of marks and arrows are fractions of the whole image, 0 to 1. */
export interface Photo extends Located {
  readonly id: string;
  readonly platform: string;
  /** Image file, relative to the collection; absent if there is only a sidecar. */
  readonly file?: string;
  /** The same picture in light lines on a dark ground, for dark screens; absent where none was made of this picture. */
  readonly night?: string;
  /** Sidecar file; absent if there is none. */
  readonly sidecar?: string;
  readonly alt?: string;
  readonly taken?: string;
  readonly shows: readonly Reference[];
  readonly marks: readonly Mark[];
  readonly arrows: readonly {
    readonly from: readonly [number, number];
    readonly to: readonly [number, number];
    readonly where: Where;
  }[];
  /** Fractions of the whole image; the whole image when not given. */
  readonly crop: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
  /**
   * What the image file is, read from its header; absent when it could not be read (a finding says why). Upright size,
   * orientation applied. `sha256` of the file's bytes, where an issue has it to be compared with, or is about to be
   * written.
   */
  readonly image?: {
    readonly width: number;
    readonly height: number;
    readonly bytes: number;
    readonly format: string;
    readonly sha256?: string;
  };
}

/** A background page: read, never issued. */
export interface Reading extends Located {
  readonly id: string;
  readonly platform: string;
  readonly file: string;
  readonly title: string;
  readonly summary?: string;
  /** Place in the list; files without one come after, by title. */
  readonly order?: number;
  /**
   * Words of its attribute values and names of image files in it, so that a photo that only it shows is not called
   * unused.
   */
  readonly mentions?: readonly string[];
}

/** A platform with everything that its folder holds. Millimetres count from the datum that its author names. */
export interface Platform extends Located {
  readonly id: string;
  readonly name: string;
  readonly datum?: string;
  /** The procedure that confirms the patient and the band before anything is chosen; absent when not given. */
  readonly confirms?: Reference;
  /** Where the patient's mass acts. */
  readonly patient?: { readonly xMm: number };
  readonly own: { readonly massKg: number; readonly xMm: number };
  /** The platform's places, then those on items, in file order; `aside` is not among them. */
  readonly places: readonly Place[];
  readonly fastenings: readonly Fastening[];
  readonly limits: { readonly massKg?: number; readonly balance?: { readonly fromMm: number; readonly toMm: number } };
  readonly factors?: {
    readonly source?: string;
    readonly forward?: number;
    readonly rearward?: number;
    readonly sideward?: number;
    readonly upward?: number;
    readonly downward?: number;
  };
  readonly items: readonly Item[];
  /** In order of weight, then file name. */
  readonly configurations: readonly Configuration[];
  readonly options: readonly Option[];
  readonly procedures: readonly Procedure[];
  readonly photos: readonly Photo[];
  readonly readings: readonly Reading[];
  /** Temporary amendments, whenever they run, by their first day; absent where there is none. */
  readonly amendments?: readonly Amendment[];
  /**
   * Items that an amendment takes out of service on the collection's day (`domain/force`): id -> how many, all there
   * are. Absent where none does, and in the files as they were read.
   */
  readonly out?: ReadonlyMap<string, number>;
  /** The platform without what amendments do to it on that day; absent where none runs. */
  readonly asIssued?: Platform;
}

/** What went wrong once (`incidents.yaml`), on a day, `YYYY-MM-DD`; steps guard against it. */
export interface Incident extends Located {
  readonly id: string;
  readonly date: string;
  readonly summary: string;
  readonly reference?: string;
}

/** What was said of one revision of a document, file by file. */
export interface Review extends Located {
  readonly file: string;
  readonly platform: string;
  /** Id of a procedure, configuration or option of the platform. */
  readonly document: string;
  readonly revision: number;
  readonly remarks: readonly ReviewRemark[];
}

/** What a reviewer said, of a step or of the whole document; open as long as it has no answer. */
export interface ReviewRemark extends Located {
  /** Id or number of a step, as it is written. */
  readonly step?: string;
  readonly by: string;
  /** `YYYY-MM-DD`. */
  readonly date: string;
  readonly text: string;
  readonly answer?: string;
  readonly answered?: string;
}

/** A numbered printed card in a folder. */
export interface FolderCopy extends Located {
  /** Configuration id (or `from--to` for a changeover card), without the platform. */
  readonly card: string;
  /** The platform's id; absent if the files do not say which one it is (a finding does). */
  readonly platform?: string;
  readonly copy: number;
  /** The check code printed on the copy; absent when not recorded. */
  readonly check?: string;
  readonly placed?: string;
}

/** A folder that is carried, with the copies in it. */
export interface Folder extends Located {
  readonly id: string;
  readonly name: string;
  readonly copies: readonly FolderCopy[];
}

/** A frozen issue as it was read from `issued/`; `content` is what `freeze` wrote, `hash` what it says of it. */
export interface Issued extends Located {
  readonly file: string;
  readonly platform: string;
  readonly kind: "procedure" | "configuration" | "option";
  readonly id: string;
  readonly revision: number;
  /** Absent for 1, whose hash is of the content alone. */
  readonly form?: 1 | 2;
  /** What stands beside the content in the file: bound by the hash in form 2, in form 1 compared with the content. */
  readonly head?: Readonly<Record<string, unknown>>;
  readonly hash: string;
  readonly content: unknown;
}

/** A frozen edition of a configuration's card as it was read from `issued/`: everything that it printed. */
export interface CardEdition extends Located {
  readonly file: string;
  readonly platform: string;
  /** Id of the configuration. */
  readonly card: string;
  readonly edition: number;
  /** In force from this day on, `YYYY-MM-DD`. */
  readonly effective: string;
  /** The check code printed on it. */
  readonly code: string;
  /** The rest of the file: what the hash binds beside these. */
  readonly frozen: Readonly<Record<string, unknown>>;
  readonly hash: string;
}

/** A small rendering of a photo that an issue showed, from `issued/<platform>/photos/`. */
export interface KeptPicture {
  /** Its name is the hash that it had when it was kept. */
  readonly file: string;
  readonly platform: string;
  /** SHA-256 of its bytes as they are now, in 64 hexadecimal digits. */
  readonly sha256: string;
}

/** Everything that one folder of files says, read and typed; what in it is in force, `domain/force` says. */
export interface Collection {
  /**
   * The day, `YYYY-MM-DD`, of which this is what is in force (`domain/force`); absent for the files as they were read.
   */
  readonly on?: string;
  readonly service: Service;
  readonly platforms: readonly Platform[];
  readonly folders: readonly Folder[];
  readonly incidents: readonly Incident[];
  /** What reviewers said; absent where nobody said anything. */
  readonly reviews?: readonly Review[];
  readonly issued: readonly Issued[];
  /** Frozen editions of cards; absent where none was ever issued. */
  readonly editions?: readonly CardEdition[];
  /** Pictures kept with issues; absent where there is none. */
  readonly pictures?: readonly KeptPicture[];
}

/* Prose: what running text is after reading, without any syntax tree or HTML. */

/** Plain words of a paragraph, and where they begin. */
export interface Text {
  readonly kind: "text";
  readonly text: string;
  readonly where: Where;
}

/** A piece of a paragraph. */
export type Inline =
  | Text
  | { readonly kind: "strong" | "emphasis"; readonly children: readonly Inline[] }
  | { readonly kind: "code"; readonly text: string }
  | { readonly kind: "break" }
  | { readonly kind: "link"; readonly href: string; readonly children: readonly Inline[] }
  | {
      readonly kind: "item" | "place";
      readonly id: string;
      readonly children: readonly Inline[];
      readonly where: Where;
    };

/** A paragraph in pieces, in order. */
export interface Paragraph {
  readonly kind: "paragraph";
  readonly children: readonly Inline[];
  readonly where: Where;
}

/** A block of text, with its place. */
export type Block =
  | Paragraph
  | Alert
  | { readonly kind: "heading"; readonly depth: number; readonly children: readonly Inline[]; readonly where: Where }
  | {
      readonly kind: "list";
      readonly ordered: boolean;
      readonly items: readonly (readonly Block[])[];
      readonly where: Where;
    }
  | { readonly kind: "quote"; readonly children: readonly Block[]; readonly where: Where }
  | { readonly kind: "code"; readonly text: string; readonly where: Where }
  | { readonly kind: "table"; readonly rows: readonly (readonly (readonly Inline[])[])[]; readonly where: Where }
  | { readonly kind: "rule"; readonly where: Where }
  | {
      readonly kind: "component";
      readonly name: string;
      readonly attributes: Readonly<Record<string, string | number | boolean>>;
      readonly where: Where;
    };
