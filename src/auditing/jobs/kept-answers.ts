/**
 * Answers that were worked out before, by what was asked; of many only those that were asked for
 * lately, so that it never holds more than twice as many as said.
 */
export function keptAnswers<Answer>(
  kept: number,
): (question: string, answer: () => Answer) => Answer {
  let lately = new Map<string, Answer>();
  let before = new Map<string, Answer>();
  return (question, answer) => {
    const known = lately.get(question);
    if (known !== undefined) return known;
    const found = before.get(question) ?? answer();
    if (lately.size >= kept) {
      before = lately;
      lately = new Map();
    }
    lately.set(question, found);
    return found;
  };
}
