/** What a word is beside its form: its stem and root, what means the same, and whether anything may have it. */
import { searchWords } from "./query-words.ts";

/** A word without its usual English endings, so that `straps`, `strapped` and `strapping` meet. */
export function stemOf(word: string): string {
  if (word.length < 4 || /\d/.test(word)) return word;
  const bare = word
    .replace(/(ies)$/, "y")
    .replace(/(?<=[sxz]|ch|sh)es$/, "")
    .replace(/(?<![su])s$/, "")
    .replace(/(?<=\w{3})(ing|ed)$/, "")
    .replace(/(?<=\w{3}v)al$/, "");
  return bare.replace(/([bdfglmnprt])\1$/, "$1").replace(/(?<=\w{3})e$/, "");
}

/**
 * What is left of a stem without the endings that make a noun or a quality of a deed, and the `re` of what is done
 * again: `approval` and `approve`, `assessor` and `reassess`; itself where little is left.
 */
export const rootOf = (() => {
  const known = new Map<string, string>();
  return (stem: string): string => {
    let root = known.get(stem);
    if (root === undefined) {
      root = stem
        .replace(/^re(?=[^aeiou].{4}|assess|open|use)/, "")
        .replace(
          /(?<=.{4})(?:ations?|ators?|at|itions?|ions?|ments?|ances?|ences?|als?|ers?|ors?|ly|ness|abl|ibl|ity|iv)$/,
          "",
        )
        .replace(/(?<=.{3}(?:in|gh))t$/, "");
      known.set(stem, root);
    }
    return root;
  };
})();

/** Whether a word is a quality or a deed that anything may have, in some form: `bigger`, `smallest`, `taking`. */
export function isGeneral(word: string): boolean {
  return [word, word.replace(/(?<=..)(?:est|er|en)$/, "")].some((form) => GENERAL.has(stemOf(form)));
}

/**
 * Qualities and deeds that are said of anything: where one of them stands nowhere, the thing that it is said of may be
 * here all the same. Mostly the qualities of Basic English (Ogden 1930, written down from memory).
 */
const GENERAL: ReadonlySet<string> = new Set(
  searchWords(`able alone angry apart asleep automatic awake awkward bad bent better best big bitter black
blue bottom bright
broken brown calm careful certain cheap clean clear close cold common complete correct cracked crooked cut damp
dark dead deep delicate different difficult dirty dry dull early easy electric empty equal extra false far fast
fat female few final fine first fixed flat foolish free fresh frequent full funny general good great green grey
grown happy hard healthy heavy high hollow hot huge ill important large last late left light little long loose
lost loud low main male manual medical mixed narrow natural near necessary new next noisy normal odd old only open
opposite ordinary other own past physical plain poor possible present private probable proper public quick quiet
ready red regular right rough round sad safe same second separate serious sharp short shut sick silent simple
single slow small smelly smooth soft solid special spare standard sticky stiff straight strange strong stuck
sudden tall temporary thick thin tight tiny tired together top torn total true ugly upside urgent usual violent
warm weak wet white whole wide wrong yellow young answer appear ask become begin bend bring build buy call carry
catch check choose come cover drag drop end fail fall feel fetch find finish fit fold follow forget grab grow
handle hang happen hear help hit hold join keep know lay lead learn leave lie lift load look lose manage mean meet
miss move open pack pass pick place pull push put reach read receive remember remove replace return ride roll run
say see seem sell send set shake share show shut sit slide slip sort spill split stand start stay stick stop swap
switch take talk teach tear think throw tie touch try turn twist understand use wait walk want wash watch wear
work write given gave taken took made went came gone done agree allow showing mean day hour
hr hrs min mins minute enough`).map(stemOf),
);

/** Plain English words that a searcher may use for one another; a match through them counts about half. */
const FAMILIES: readonly (readonly string[])[] = [
  ["fit", "seat", "mount", "attach", "install", "place", "setup"],
  ["remove", "unseat", "detach", "dismount", "undo", "undress", "strip"],
  ["stow", "store"],
  ["failed", "broken", "fault", "faulty", "dead", "died", "stopped"],
  ["check", "test", "inspect", "confirm", "prove"],
  ["clean", "wipe", "wash", "disinfect", "tidy"],
  ["change", "replace", "swap", "exchange"],
  ["strap", "buckle", "belt", "seatbelt", "restrain", "secure", "fasten"],
  ["lay", "strap"],
  ["load", "push"],
  ["baby", "newborn", "infant", "neonate", "preterm", "prem", "premature"],
  ["child", "toddler", "kid", "boy", "girl", "schoolchild", "pupil"],
  ["patient", "pt", "pts", "adult", "casualty", "person", "teenager", "teen", "adolescent", "man", "woman"],
  ["ambulance", "vehicle", "car", "van"],
  ["helicopter", "chopper", "aircraft", "plane"],
  ["run", "mission", "job", "transfer"],
  ["stuck", "jammed", "blocked"],
  ["spare", "extra", "another", "backup", "reserve"],
  ["daily", "morning", "shift", "readiness"],
  ["cold", "freezing", "frozen"],
  ["cold", "warm", "heated"],
  ["hot", "warm", "heat", "heater"],
  ["leak", "hiss"],
  ["loose", "rock", "wobble"],
  ["kilogram", "kilo", "kg", "kgs"],
  ["pound", "lb", "lbs"],
  ["lid", "cover", "canopy", "hood"],
  ["valve", "tap"],
  ["maker", "manufacturer"],
  ["phone", "call", "radio"],
  ["learn", "study", "lesson", "train"],
];

/** Words that a searcher may use in the place of another, each as it is written. */
export const FAMILY_WORDS: readonly string[] = FAMILIES.flat();

/** Stem -> the stems of words that mean the same, itself among them. */
export const kinOf = new Map<string, ReadonlySet<string>>();

for (const family of FAMILIES)
  for (const stem of family.map(stemOf)) kinOf.set(stem, new Set([...(kinOf.get(stem) ?? []), ...family.map(stemOf)]));
