/** Words for times, people and lists. */
import { describe, expect, it } from "vitest";
import {
  plainText,
  sayCount,
  sayDecimal,
  sayDuration,
  sayKind,
  sayMinutes,
  sayNumber,
  sayRole,
  sayThe,
  sayWho,
} from "../../../src/domain/words/say.ts";
import { sayList } from "../../../src/schema/wording.ts";
import { WHERE } from "../parts/make.ts";

const crewOf = (...ids: string[]) => ids.map((id) => ({ id, name: id, where: WHERE, at: {} }));

describe("words of pages", () => {
  // Common English usage, no source: a name with a possessive takes no article.
  it.each([
    ["Tern trolley", "the Tern trolley"],
    ["Our trolley", "our trolley"],
    ["Ourense sled", "the Ourense sled"],
  ])("says the platform %s as %s within a sentence", (name, words) => expect(sayThe(name)).toBe(words));

  it.each([
    [0, "0 s"],
    [40, "40 s"],
    [60, "1 min"],
    [250, "4 min 10 s"],
    [3600, "1 h"],
    [3900, "1 h 5 min"],
  ])("says %d seconds as %s", (seconds, words) => {
    expect(sayDuration(seconds)).toBe(words);
  });
  it.each([
    [0, "0:00"],
    [59.4, "0:59"],
    [59.6, "1:00"],
    [119.5, "2:00"],
    [290, "4:50"],
    [3600, "60:00"],
  ])("says %d seconds on a clock as %s", (seconds, words) => expect(sayMinutes(seconds)).toBe(words));
  it("says who acts, by how many there are", () => {
    expect(sayWho(["lead", "second"], crewOf("lead", "second"))).toBe("Both");
    expect(sayWho(["a", "b", "c"], crewOf("a", "b", "c"))).toBe("All");
    expect(sayWho(["lead", "ground-crew"], crewOf("lead", "second", "ground-crew"))).toBe("Lead and ground crew");
    expect(sayWho(["leader"], crewOf("leader"))).toBe("Leader");
    expect(sayWho([], crewOf("lead"))).toBe("Anyone");
  });
  it("says counts, lists and decimals without trailing zeros", () => {
    expect([sayCount(0), sayCount(4), sayCount(13)]).toEqual(["no", "four", "13"]);
    expect([sayNumber(1, "hold"), sayNumber(2, "hold")]).toEqual(["one hold", "two holds"]);
    expect([sayList([]), sayList(["a"]), sayList(["a", "b", "c"])]).toEqual(["", "a", "a, b and c"]);
    expect([sayDecimal(8.2, 2), sayDecimal(104, 1), sayDecimal(0.05, 3)]).toEqual(["8.2", "104", "0.05"]);
    expect(sayRole("ground-crew")).toBe("Ground crew");
  });
  it("reads running text without its marks", () => {
    expect(
      plainText([
        { kind: "text", text: "Push " },
        { kind: "strong", children: [{ kind: "text", text: "four" }] },
        { kind: "break" },
        { kind: "code", text: "pins" },
      ]),
    ).toBe("Push four pins");
  });
});

describe("kinds of fastenings", () => {
  it("are called as people call them: a lead is a cable, since the lead is a person (invented)", () => {
    expect([sayKind("valve"), sayKind("lead"), sayKind("brake"), sayKind(undefined)]).toEqual([
      "valve",
      "cable",
      "brake",
      "fastening",
    ]);
  });
});
