/** Several controls that make one text: the ends of a band, a duration, a list of names. */

/** The text; empty if all is left open; `undefined` if it is not whole yet. */
export function composedText(field: HTMLElement): string | undefined {
  const valueOf = (name: string) =>
    field.querySelector<HTMLInputElement | HTMLSelectElement>(`[name="${name}"]`)?.value.trim() ?? "";
  switch (field.dataset["compose"]) {
    case "weight":
    case "age":
      return bandText(valueOf("lower"), valueOf("low"), valueOf("upper"), valueOf("high"), valueOf("unit"));
    case "quantity":
      return valueOf("figure") === "" ? "" : `${valueOf("figure")} ${valueOf("unit")}`;
    case "pieces":
      return valueOf("item") === "" || valueOf("count") === ""
        ? undefined
        : `${valueOf("count") === "1" ? "" : `${valueOf("count")} `}${valueOf("item")}`;
    case "words":
      return [...field.querySelectorAll<HTMLInputElement | HTMLSelectElement>("input:checked, select")]
        .map(({ value }) => value)
        .filter(Boolean)
        .join(" ");
    default:
      return undefined;
  }
}

/**
 * A band in the words of the format: `from 5 kg to under 40 kg`. Empty with two open ends, `undefined` with half
 * an end.
 */
function bandText(lower: string, low: string, upper: string, high: string, unit: string): string | undefined {
  if ((lower === "") !== (low === "") || (upper === "") !== (high === "")) return undefined;
  if (lower === "") return upper === "" ? "" : `${upper} ${high} ${unit}`;
  if (upper === "") return `${lower} ${low} ${unit}`;
  return `${lower} ${low} ${unit} ${upper === "under" ? "to under" : "up to"} ${high} ${unit}`;
}
