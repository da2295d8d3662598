/** Questions about items: where each lives in an arrangement, how many there are, what is missing on the platform. */
import { wordsFor } from "../../../words/words.ts";
import { sayThe } from "../../words/say.ts";
import type { Arrangement, Contents } from "../../parts/arrangements.ts";
import { layoutOf, placesOnPlatform } from "../../parts/arrangements.ts";
import { itemsUnder, placesUnder, standingIn } from "../../parts/support.ts";
import { fromConfiguration, type Ground } from "./ground.ts";
import { type AnswerChoice, makeQuestion, type MadeQuestion, readAlike } from "./question.ts";
import { sayArrangement } from "../../parts/arrangements.ts";
import { heard } from "../../../words/heard.ts";

/**
 * Where an item is in an arrangement. Wrong: places where it is in another arrangement and places of the same kind, in
 * which it has no piece, and that don't hold what holds it.
 */
export function askHomes(ground: Ground): MadeQuestion[] {
  const { platform } = ground;
  const layout = layoutOf(platform);
  const names = new Map(platform.places.map(({ id, name }) => [id, name]));
  return ground.arrangements.flatMap((arrangement) =>
    platform.items.flatMap((item) => {
      const [where, ...others] = arrangement.contents.filter((each) => each.item === item.id);
      if (!where || others.length > 0 || !isTelling(ground, arrangement, where)) return [];
      const around = placesAround(ground, arrangement, where.place);
      const aroundNames = new Set([...around].map((id) => readAlike(names.get(id) ?? "")));
      const key = layout.places.get(where.place)!;
      // First the places where it is in other arrangements, then those of the same kind; the rest is far away.
      const elsewhere = new Set(
        ground.model.arrangements.flatMap(({ contents }) =>
          contents.filter((each) => each.item === item.id).map(({ place }) => place),
        ),
      );
      const rank = (id: string) => (elsewhere.has(id) ? 0 : layout.places.get(id)!.kind === key.kind ? 1 : 2);
      const wrong = platform.places
        .filter(
          ({ id, name }) =>
            rank(id) < 2 &&
            !around.has(id) &&
            !isOnItself(ground, arrangement, item.id, id) &&
            !aroundNames.has(readAlike(name)),
        )
        .map((place, at) => ({ place, at }))
        .sort((a, b) => rank(a.place.id) - rank(b.place.id) || a.at - b.at)
        .map(({ place: { id, name } }): AnswerChoice => ({ text: name, means: id }));
      return (
        makeQuestion({
          kind: "home",
          platform: platform.id,
          source: fromConfiguration(arrangement.configuration),
          asks: { arrangement: arrangement.name, item: item.id },
          prompt: heard("questions").where({
            arrangement: sayArrangement(arrangement),
            item:
              item.count > 1
                ? heard("questions").areThePiecesCalled({ item: item.name })
                : heard("questions").isThisItem({ item: item.name }),
          }),
          key: [{ text: key.name, means: key.id }],
          wrong,
          proof: heard("questions").itIs({
            count: where.count,
            key: key.name,
            whereIt: item.home === key.id ? heard("questions").whereItLives : "",
          }),
        }) ?? []
      );
    }),
  );
}

/**
 * A bare arrangement tells where each item is; one with an option only what the option moves. What never moves is asked
 * once.
 */
function isTelling({ model, arrangements }: Ground, arrangement: Arrangement, { item, place }: Contents): boolean {
  const bare = arrangements.filter(({ options }) => options.length === 0);
  const inPlace = ({ contents }: Arrangement) => contents.some((each) => each.item === item && each.place === place);
  if (arrangement.options.length > 0)
    return !bare.some((each) => each.configuration === arrangement.configuration && inPlace(each));
  return (
    !model.arrangements.every(inPlace) ||
    arrangement === (bare.find(({ configuration }) => configuration.standing) ?? bare[0])
  );
}

/** Whether a place is on the item, or on something that stands on it: nothing can be in itself. */
function isOnItself(ground: Ground, { contents }: Arrangement, item: string, place: string): boolean {
  return itemsUnder(place, layoutOf(ground.platform).places, standingIn(contents)).has(item);
}

/** The place, and the places that carry what it is on: to name one of them would not be wrong. */
function placesAround(ground: Ground, { contents }: Arrangement, place: string): Set<string> {
  return new Set(placesUnder(place, layoutOf(ground.platform).places, standingIn(contents)));
}

/**
 * How many pieces are in a place in an arrangement: of items with several pieces; also none, where there can be some.
 */
export function askCounts({ platform, model, arrangements }: Ground): MadeQuestion[] {
  const names = new Map(platform.places.map(({ id, name }) => [id, name]));
  return arrangements.flatMap((arrangement) =>
    platform.items
      .filter(({ count }) => count > 1)
      .flatMap((item) => {
        const everIn = new Set(
          model.arrangements.flatMap(({ contents }) =>
            contents.filter((each) => each.item === item.id).map(({ place }) => place),
          ),
        );
        return [...everIn].flatMap((place) => {
          const countIn = ({ contents }: Arrangement) =>
            contents
              .filter((each) => each.item === item.id && each.place === place)
              .reduce((sum, { count }) => sum + count, 0);
          const bare = arrangements.find(
            (each) => each.configuration === arrangement.configuration && each.options.length === 0,
          );
          const count = countIn(arrangement);
          if (arrangement.options.length > 0 && bare && countIn(bare) === count) return [];
          const numbers = [count - 1, count + 1, item.count, 0, count + 2, count - 2].filter(
            (each, at, list) => each >= 0 && each !== count && list.indexOf(each) === at,
          );
          return (
            makeQuestion({
              kind: "count",
              platform: platform.id,
              source: fromConfiguration(arrangement.configuration, count > 0),
              asks: { arrangement: arrangement.name, item: item.id, place },
              prompt: heard("questions").countThePiecesCalled({
                arrangement: sayArrangement(arrangement),
                item: item.name,
                names: names.get(place)!,
              }),
              key: [number(count)],
              wrong: numbers.map(number),
              proof: heard("questions").countOfItemCount({
                count: count === 0 ? heard("questions").none : count,
                itemCount: item.count,
                theRest: count === item.count || count === 0 ? "" : heard("questions").theRestIsElsewhere,
              }),
            }) ?? []
          );
        });
      }),
  );
}

function number(count: number): AnswerChoice {
  return { text: count === 0 ? heard("questions").none : String(count), means: String(count) };
}

/**
 * What is missing from this list of what is on the platform. Wrong: items that are not on it in this arrangement, and
 * are in another.
 */
export function askMissingItems({ service, platform, arrangements }: Ground): MadeQuestion[] {
  const layout = layoutOf(platform);
  const fittedSomewhere = new Set(arrangements.flatMap(fittedIn));
  return arrangements.flatMap((arrangement) => {
    const on = placesOnPlatform(layout, arrangement.contents);
    const piecesOn = (item: string) =>
      arrangement.contents
        .filter((each) => each.item === item && on.has(each.place))
        .reduce((sum, { count }) => sum + count, 0);
    const aboard = platform.items.filter(({ id }) => piecesOn(id) > 0);
    const off = platform.items.filter(({ id }) => piecesOn(id) === 0 && fittedSomewhere.has(id));
    // What this arrangement fits is worth asking; what is always there is asked in none.
    const own = new Set(fittedIn(arrangement));
    return aboard
      .filter(
        ({ id, name }) =>
          own.has(id) && aboard.filter((other) => readAlike(other.name) === readAlike(name)).length === 1,
      )
      .flatMap(
        (item) =>
          makeQuestion({
            kind: "missing",
            platform: platform.id,
            source: fromConfiguration(arrangement.configuration, true),
            asks: { arrangement: arrangement.name },
            prompt: wordsFor(service).study.readyMissing({
              arrangement: sayArrangement(arrangement),
              which: sayThe(platform.name),
            }),
            drawn: { arrangement: arrangement.name, item: item.id },
            given: aboard
              .filter((other) => other !== item)
              .map(({ id, name }) => (piecesOn(id) > 1 ? `${piecesOn(id)} × ${name}` : name)),
            key: [{ text: item.name, means: item.id }],
            wrong: off
              .filter(({ name }) => !aboard.some((other) => readAlike(other.name) === readAlike(name)))
              .map(({ id, name }) => ({ text: name, means: id })),
            proof: heard("questions").itIsPart({ arrangement: sayArrangement(arrangement) }),
          }) ?? [],
      );
  });
}

function fittedIn({ configuration, options }: Arrangement): string[] {
  return options.length
    ? options.flatMap(({ fitted }) => fitted.map(({ item }) => item))
    : configuration.fitted.map(({ item }) => item);
}
