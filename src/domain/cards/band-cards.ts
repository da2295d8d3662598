/**
 * Cards for some of a configuration's patients: where its lines are not the same for all of them, each elementary band
 * has a card of its own without any "only".
 */
import type { Band, End, Range } from "../../schema/collection.ts";
import { covers, isSameRange, meetBands, sayBand, formatBand } from "../bands/bands.ts";
import { thawBand } from "../force/thaw.ts";
import type { Arrangement } from "../parts/arrangements.ts";
import { cardBuilders, cardContentOf, type CardContent, contentWithOptions } from "./card-content.ts";
import type { ConfigurationContent, Content, OptionContent, RangeContent } from "../records/content.ts";
import { joinBands } from "../bands/join-bands.ts";
import { numberedSteps } from "../records/match-steps.ts";
import { elementaryBands, groupCells } from "../bands/patients.ts";
import { parseRange } from "../../schema/quantities.ts";
import { slugOf } from "../../schema/wording.ts";

/** The card for the patients of a band within the configuration's. */
interface BandCard {
  readonly band: Band;
  readonly content: CardContent;
}

/**
 * The cards of the elementary bands of a configuration (design: steps' bands cut it into bands in which its list of
 * steps is constant), neighbours with the same
 * lines joined; lighter first, then younger. Empty if every patient has the same lines: then the configuration's own
 * card is for exactly them.
 */
export function bandCardsOf(configuration: ConfigurationContent, contents: readonly Content[]): BandCard[] {
  const whole = thawBand(configuration);
  const bands = cuttingBands(configuration, contents).filter(
    (band) => meetBands(whole, band) && !(covers(band.weight, whole.weight) && covers(band.age, whole.age)),
  );
  if (bands.length === 0) return [];
  const linesOf = (band: Band) => {
    const { lines, options } = linesForBand(configuration, band, contents);
    return JSON.stringify([lines, options]);
  };
  const alike = groupCells(elementaryBands(whole, bands), ({ band }) => linesOf(band));
  if (alike.length < 2) return [];
  return alike
    .flatMap(({ cells }) => joinBands(cells.map(({ band }) => band)))
    .sort(byEnds)
    .map((band) => ({ band, content: contentForBand(configuration, band, contents) }));
}

/**
 * What the card says for the patients of a band in which no line is only for some. Options that are for none of them,
 * or have no lines, are left out; for whom an
 * option is otherwise is not printed, and so not part of the card.
 */
export function contentForBand(
  configuration: ConfigurationContent,
  band: Band,
  contents: readonly Content[],
): CardContent {
  const checks = configuration.checks.map((check) => ({
    ...check,
    answer: answerFor(check.answer, configuration, band),
  }));
  return linesForBand({ ...configuration, checks }, band, contents);
}

/**
 * What the card says for one arrangement, and within it for the patients of a band: the lines that are read with its
 * options fitted, and the answers for those patients whom its options leave. The one owner of it, for card, second
 * look and page.
 */
export function contentForArrangement(
  configuration: ConfigurationContent,
  contents: readonly Content[],
  { band: fitted, options }: Pick<Arrangement, "band" | "options">,
  band?: Band,
): CardContent {
  const whole = thawBand(configuration),
    narrowed = meetBands(band ?? whole, fitted) ?? fitted;
  const content = isSameBand(narrowed, whole)
    ? cardContentOf(configuration, contents)
    : contentForBand(configuration, narrowed, contents);
  return contentWithOptions(
    content,
    options.map(({ id }) => id),
  );
}

/** The same with the configuration's answers as they are: by these, neighbouring bands are found to be alike. */
function linesForBand(configuration: ConfigurationContent, band: Band, contents: readonly Content[]): CardContent {
  const others = new Set(
    contents.flatMap((each) => (each.kind === "option" && !meetBands(thawBand(each), band) ? [each.id] : [])),
  );
  const content = cardContentOf(
    {
      ...configuration,
      options: configuration.options.filter((id) => !others.has(id)),
      weight: contentOfRange(band.weight),
      age: contentOfRange(band.age),
    },
    contents,
  );
  return {
    ...content,
    options: content.options
      .filter(({ lines }) => lines.length > 0)
      .map((option) => ({ ...option, weight: "any weight", age: "any age" })),
  };
}

/**
 * The answer of a check on a card for a band. One that tells the weights of the whole configuration tells those of the
 * band: `from 1.2 kg, under 5 kg` becomes `from 1.2 kg to under 1.8 kg`, else a crew would say yes to a patient for
 * whom the card is not. Any other answer stays.
 */
function answerFor(answer: string, configuration: ConfigurationContent, band: Band): string {
  const told = rangeTold(answer),
    whole = thawBand(configuration).weight;
  return told && isSameRange(told, whole) ? sayBand(band) : answer;
}

/** The weights that a check's answer tells: `from 5 kg, under 40 kg`, with or without `to`; `undefined` for others. */
export function rangeTold(answer: string): Range | undefined {
  const told = parseRange(
    answer.replace(/,\s+(?:to\s+)?under\b/, " to under").replace(/,\s+up to\b/, " up to"),
    "weight",
  );
  return told.ok ? told.value : undefined;
}

/** Whether two bands have the same ends, however they are worded. */
export function isSameBand(a: Band, b: Band): boolean {
  return isSameRange(a.weight, b.weight) && isSameRange(a.age, b.age);
}

/** A band as a part of an address: `from-1-8-kg-to-under-2-5-kg-under-28-days`. */
export function addressOfBand(band: Band): string {
  return slugOf(formatBand(band));
}

/**
 * The bands of what makes a line of the card: options, procedures that build the configuration or an option of it, and
 * their steps that are looked at.
 */
function cuttingBands(configuration: ConfigurationContent, contents: readonly Content[]): Band[] {
  const options = contents.filter(
    (content): content is OptionContent => content.kind === "option" && configuration.options.includes(content.id),
  );
  const builders = new Set([configuration, ...options].flatMap(cardBuilders(configuration, contents)));
  const steps = [...builders]
    .flatMap((procedure) => numberedSteps(procedure).map(({ step }) => step))
    .filter(({ checks, weight, age }) => checks.length > 0 && (weight ?? age));
  return [...options.map(thawBand), ...[...builders].map(thawBand), ...steps.map(thawBand)];
}

function contentOfRange({ text, from, to }: Range): RangeContent {
  const end = ({ value, owned }: End) => ({ value: String(value), owned });
  return { text, ...(from ? { from: end(from) } : {}), ...(to ? { to: end(to) } : {}) };
}

function byEnds(a: Band, b: Band): number {
  const low = (range: Range) => range.from?.value ?? -1n;
  const compare = (x: bigint, y: bigint) => (x < y ? -1 : x > y ? 1 : 0);
  return compare(low(a.weight), low(b.weight)) || compare(low(a.age), low(b.age));
}
