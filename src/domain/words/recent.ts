/**
 * Results that rest on numbers alone, known by these numbers: an edit of words makes new records of everything
 * (`remember` knows none of them), and the same numbers.
 */

/**
 * The same function for each question, which works out its result once and answers with it while it is among the last
 * `most` that were asked. The question must hold all that the result rests on, and nobody may change a result.
 */
export function recent<Result>(most: number): (question: string, work: () => Result) => Result {
  const known = new Map<string, { readonly result: Result }>();
  return (question, work) => {
    const found = known.get(question) ?? { result: work() };
    known.delete(question);
    known.set(question, found);
    if (known.size > most) known.delete(known.keys().next().value!);
    return found.result;
  };
}
