/** '30 minutes / 60 x $150.97' with the sign that amounts have everywhere else: '×'. */
export function withTimesSign(sentence: string): string {
  return sentence.replaceAll(/ x (?=[$\d])/g, ' × ');
}
