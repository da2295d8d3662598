/** The wording rules on single sentences: what they find and, as important, what they leave alone. */
import { describe, expect, it } from "vitest";
import type { Paragraph } from "../../../src/schema/collection.ts";
import { countedParts, countWords, sentencesOf } from "../../../src/rules/words.ts";
import { findPassive } from "../../../src/rules/wording/passive.ts";
import { findSide } from "../../../src/rules/wording/side-without-viewpoint.ts";
import { findSecondAction } from "../../../src/rules/wording/two-actions.ts";
import { findVague, isEmptyAnswer } from "../../../src/rules/wording/vague.ts";

const at = (line: number, column: number) => ({ file: "tern/seat.mdx", line, column });

/** A paragraph of one text that begins at line 10, column 1. */
function paragraph(text: string): Paragraph {
  return { kind: "paragraph", children: [{ kind: "text", text, where: at(10, 1) }], where: at(10, 1) };
}

describe("sentences and words", () => {
  it("counts 13 words in the published example (ASD-STE100 Issue 9, as quoted by others)", () => {
    expect(countWords("To extinguish a possible fire, portable fire extinguishers are installed in these areas:")).toBe(
      13,
    );
  });

  it(
    'counts a hyphenated word as one: "The cabin sub-compartment" has 3 (ASD-STE100 Issue 9, as quoted by ' + "others)",
    () => {
      expect(countWords("The cabin sub-compartment")).toBe(3);
    },
  );

  it.each([
    ["Tighten it to 4 Nm.", 4],
    ["Wait 40 s – then look.", 4],
    ["Say “four in, four locked”.", 2],
    ["", 0],
    ["Keep it at 20 °C.", 4],
  ])("counts a number with its unit and a quotation as one word: %s", (text, words) => {
    expect(countWords(text)).toBe(words);
  });

  it(
    "counts what stands in parentheses and after a colon for itself (ASD-STE100, from memory; Flesch's counting " +
      "rules for colons)",
    () => {
      expect(
        countedParts("Lift both ends (the head end first): one, two.").map(({ text }) => countWords(text)),
      ).toEqual([3, 2, 4]);
    },
  );

  it("gives the place of each sentence, also after a line break and within emphasis", () => {
    const text: Paragraph = {
      kind: "paragraph",
      where: at(10, 1),
      children: [
        { kind: "text", text: "Lift it. Then\nlock ", where: at(10, 1) },
        { kind: "strong", children: [{ kind: "text", text: "the lever. Look.", where: at(11, 8) }] },
      ],
    };
    const sentences = sentencesOf(text);
    expect(sentences.map((sentence) => sentence.text)).toEqual(["Lift it.", "Then\nlock the lever.", "Look."]);
    expect(sentences.map((sentence) => sentence.whereAt(0))).toEqual([at(10, 1), at(10, 10), at(11, 19)]);
    expect(sentences[1]!.whereAt(5)).toEqual(at(11, 1));
  });

  it("does not end a sentence at an abbreviation, a decimal or a time", () => {
    expect(sentencesOf(paragraph("Use e.g. The blue one. At 2.5 kg or 10:30. Stop"))).toHaveLength(3);
  });
});

describe("two actions", () => {
  it.each([
    ["Push the four pins in and lock the deck lever.", "lock", 27],
    ["Push the pin in, then turn it to the stop.", "turn", 23],
    ["When the lamp is lit, open the canopy and remove the mattress.", "remove", 43],
    ["Release the lever. Lift the base off.", "Lift", 20],
    ["Close the valve, fold both rails down.", "fold", 18],
    ["Hold the base. Lift the capsule. Set the capsule on the deck.", "Set", 34],
    ["Fasten the strap and then tighten it.", "tighten", 27],
  ])("finds the second: %s", (text, verb, column) => {
    expect(findSecondAction(paragraph(text))).toEqual({
      verb,
      where: { ...at(10, column), end: { line: 10, column: column + verb.length } },
    });
  });

  it.each([
    "Push the pin in and hold it there.",
    "Lift the capsule and set it down on the base.",
    "Press both canopy catches until they spring out.",
    "Lower the canopy until both catches click and the lamp turns green.",
    "Pull the catch while you lift the flap.",
    "Press the button and turn the knob at the same time.",
    "Close the lock and strap.",
    "Snap the four clips on to their rings, shoulders first, then hips.",
    "Push the pins in. The collars turn green.",
    "Push the two hoses on to the unit, blue on blue, white on white.",
    "Press and turn the cap.",
    "Slide the mattress in until the lamp corner shows, then stop.",
    "Lead lifts the flap and second holds the base.",
    "Turn the lever down. Turn until it lies flat.",
    "Swing the deck lever up until its red band shows all round.",
    "Put the capsule down and look at the four collars.",
  ])("leaves alone: %s", (text) => {
    expect(findSecondAction(paragraph(text))).toBeUndefined();
  });
});

describe("vague words", () => {
  it.each([
    ["Secure the capsule.", "Secure"],
    ["Ensure the pins are in.", "Ensure"],
    ["Secure the capsule to the base.", "Secure"],
    ["Make sure that nobody stands there.", "Make sure"],
    ["Check the straps.", "Check"],
    ["Push the pin in and check the collar.", "check"],
    ["Tighten the strap as required.", "as required"],
    ["Close the buckle properly.", "properly"],
    ["Pull until the strap is secure.", "is secure"],
    ["Stow the leads, pumps, etc.", "etc."],
  ])("finds: %s", (text, words) => {
    expect(findVague(text)?.words).toBe(words);
  });

  it.each([
    "Check that four collars are green.",
    "Check the gauge reads 100 bar.",
    "Secure the base with the lever.",
    "Adjust the strap until it lies flat.",
    "Read the check card aloud.",
    "Push the pin in until it clicks.",
    "Turn the lever to secure.",
    "Take the check list.",
    "Look for the properly-named label.",
  ])("leaves alone: %s", (text) => {
    expect(findVague(text)).toBeUndefined();
  });

  it.each(["checked", "Checked.", "set", "OK", "checked and set", "as required", "Secure"])(
    "calls the answer %s empty (Degani & Wiener 1990, NASA CR-177549, appendix A)",
    (answer) => {
      expect(isEmptyAnswer(answer)).toBe(true);
    },
  );

  it.each([
    "four in, four locked",
    "down, no red",
    "set to 30",
    "on",
    "none on deck or floor",
    "closed",
    "checked, four green",
  ])("accepts the answer %s", (answer) => {
    expect(isEmptyAnswer(answer)).toBe(false);
  });
});

describe("sides", () => {
  it.each([
    ["Push the left pin in.", "left"],
    ["Slide the rail to the right.", "right"],
    ["Turn right until it stops.", "right"],
    ["Put the hose on the right-hand bracket.", "right"],
    ["Lift the front right corner.", "right"],
    ["Stand to the left of the lever.", "left"],
  ])("finds: %s", (text, word) => {
    expect(findSide(text)?.word).toBe(word);
  });

  it.each([
    "A strap left on the deck trips people.",
    "The lever is left open.",
    "Left in, it works against the mat.",
    "Nothing is left in the tray.",
    "Turn it the right way round.",
    "A right total can hide a pin.",
    "Compare it with the right card.",
    "The webbing runs right across.",
    "Push it right in.",
    "All right.",
    "Set it at a right angle.",
    "Whoever left the pin there comes back.",
  ])("leaves alone: %s", (text) => {
    expect(findSide(text)).toBeUndefined();
  });
});

describe("passive", () => {
  it.each([
    ["The four pins are pushed in.", true, "are pushed"],
    ["The lever must be locked.", true, "must be locked"],
    ["When the lamp is lit, the canopy is lowered.", true, "is lowered"],
    ["Then the straps should be checked.", false, "should be checked"],
    ["The strap is then pulled tight.", true, "is then pulled"],
  ])("finds: %s", (text, isFirst, words) => {
    expect(findPassive(text, isFirst)?.words).toBe(words);
  });

  it.each([
    ["Push the pins in until they are seated.", true],
    ["Lower the mattress with its rings up so that nothing is caught.", true],
    ["When the cradle is fitted, lock the lever.", true],
    ["The window is closed.", false],
    ["Lift the base that was locked.", true],
    ["Two lamps are red.", true],
  ])("leaves alone: %s", (text, isFirst) => {
    expect(findPassive(text, isFirst)).toBeUndefined();
  });

  /**
   * Fifty sentences in the manner of published procedures (FAA AC 43.13-1B chapter 7; US Navy NAVEDTRA 14014 chapter 5;
   * US Army STP 21-1, litter carries; FM 8-10-6; all public domain), in other words and with other parts. Half of them
   * order nothing; the others do, or say what is seen.
   */
  const ORDERLESS: readonly (readonly [string, string])[] = [
    ["The bottle is shaken once.", "is shaken"],
    ["Two pieces of wire are put through the hole.", "are put"],
    ["The wires are bent so that each reaches half the length.", "are bent"],
    ["The ends of the wires are passed through the eye.", "are passed"],
    ["Each wire is wrapped around the shank four times.", "is wrapped"],
    ["One wire is wound back over the other.", "is wound"],
    ["The pigtail must be bent back or under.", "must be bent"],
    ["The terminal should be screwed into the barrel.", "should be screwed"],
    ["Castle nuts shall be installed with a washer.", "shall be installed"],
    ["The worn pins shall be withdrawn and replaced.", "shall be withdrawn"],
    ["The bars are swung across at the stirrups.", "are swung"],
    ["The straps are drawn tight over the blanket.", "are drawn"],
    ["The litter is set down on the word of the leader.", "is set"],
    ["The casualty is borne feet first.", "is borne"],
    ["The cover is spread over the poles.", "is spread"],
    ["The webbing is woven through both slots.", "is woven"],
    ["The hose is blown clear with air.", "is blown"],
    ["The cable is strung over the pulley.", "is strung"],
    ["The strap is flung over the rail.", "is flung"],
    ["The old seal is torn off.", "is torn"],
    ["The filter is split along its seam.", "is split"],
    ["The hook is hung on the upper rail.", "is hung"],
    ["The screw is undone by two turns.", "is undone"],
    ["The clip is unwound from the post.", "is unwound"],
    ["The gauge is then read aloud.", "is then read"],
  ];
  const FINE: readonly string[] = [
    "Wrap the wire at least four turns around the shank.",
    "Do not use safety wire that was used before.",
    "Tighten the nut until a slot meets the hole.",
    "Set the turnbuckle so that at most three threads are seen.",
    "Cut the prong off if it is bent past the bolt.",
    "When the terminal is being wired, pass both ends through its hole.",
    "Lay the litter beside the casualty.",
    "Lock the bars with your foot.",
    "If the leg is broken, carry the casualty feet first.",
    "Hold the strap that is torn.",
    "Leave the cover off until the pad is shaken out.",
    "Read what is written on the label.",
    "Pull on the hose where it is stuck.",
    "Check that the pin is sunk to its ring.",
    "The lever is left of the seat: pull it.",
    "Both lamps are lit.",
    "The rim is wet for a minute.",
    "Push once and the lid springs shut.",
    "Keep the hand that is hurt above the rail.",
    "Kneel beside the handle and grip it.",
    "Rise together on the word of the leader.",
    "Put the fit of the pin to the test: it slides by its own weight.",
    "Wait while the mattress is blown up.",
    "Take the pin whose ring is worn out of use.",
    "Let the strap run out before it is wound up.",
  ];
  it.each(ORDERLESS)("finds among fifty: %s", (text, words) => {
    expect(findPassive(text, true)?.words).toBe(words);
  });
  it.each(FINE)("leaves alone among fifty: %s", (text) => {
    expect(findPassive(text, true)).toBeUndefined();
  });
});
