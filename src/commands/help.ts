/** The words of `--help` and of a wrong call, in the place of those that the library for the command line has. */
import type { Argument, Command, Option } from "commander";
import { writeTo } from "../findings/terminal.ts";
import { heard } from "../words/heard.ts";

/** The command with what the library says of it and of its own commands said by the table. */
export function inOurWords(command: Command): Command {
  const say = heard("helpPage");
  const titles: Readonly<Record<string, string>> = {
    "Usage:": say.usage,
    "Arguments:": say.arguments,
    "Options:": say.options,
    "Commands:": say.commands,
  };
  return command
    .helpOption("-h, --help", say.showsHelp)
    .configureHelp({
      styleTitle: (title) => titles[title] ?? title,
      optionDescription: (option) => described(option),
      argumentDescription: (argument) => described(argument),
    })
    .configureOutput({
      writeOut: (text) => writeTo(process.stdout, text),
      outputError: (text, write) => write(text.split("\n").map(sayWrongCall).join("\n")),
    });
}

/** What an option or argument is, what it may be, and what it is where it is left out. */
function described({ description, argChoices, defaultValue }: Option | Argument): string {
  const say = heard("helpPage"),
    values = argChoices?.map((choice) => JSON.stringify(choice)).join(", "),
    value = defaultValue === undefined ? undefined : JSON.stringify(defaultValue);
  if (values !== undefined)
    return `${description} ${value === undefined ? say.oneOf({ values }) : say.oneOfOrLeftOut({ values, value })}`;
  return value === undefined ? description : `${description} ${say.whatIfLeftOut({ value })}`;
}

/** A line that the library says of a wrong call; any other as it is. */
function sayWrongCall(line: string): string {
  const say = heard("wrongCall");
  const told: readonly [RegExp, (...parts: string[]) => string][] = [
    [/^error: missing required argument '(.*)'$/, (name = "") => say.missingArgument({ name })],
    [/^error: option '(.*)' argument missing$/, (option = "") => say.missingValue({ option })],
    [/^error: required option '(.*)' not specified$/, (option = "") => say.missingOption({ option })],
    [
      /^error: option '(.*)' argument '(.*)' is invalid\. Allowed choices are (.*)\.$/,
      (option = "", value = "", values = "") => say.badValue({ option, value, values }),
    ],
    [/^error: unknown option '(.*)'$/, (option = "") => say.unknownOption({ option })],
    [/^error: unknown command '(.*)'$/, (command = "") => say.unknownCommand({ command })],
    [
      /^error: too many arguments for '(.*)'\. Expected (\d+) arguments? but got (\d+): (.*)\.$/,
      (command = "", expected = "", got = "", values = "") => say.tooMany({ command, expected, got, values }),
    ],
    [/^\(Did you mean one of (.*)\?\)$/, (names = "") => say.didYouMeanOneOf({ names })],
    [/^\(Did you mean (.*)\?\)$/, (name = "") => say.didYouMean({ name })],
  ];
  for (const [pattern, say] of told) {
    const found = pattern.exec(line);
    if (found) return say(...found.slice(1));
  }
  return line;
}
