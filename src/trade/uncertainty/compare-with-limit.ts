/**
 * On which side of a limit the true value surely lies, given the uncertainty of its measurement;
 * 'within' when the method cannot tell. A value whose doubt just touches the limit is not surely
 * beyond it.
 */
export function compareWithLimit(
  { value, uncertainty }: { value: number; uncertainty: number },
  limit: number,
): 'below' | 'above' | 'within' {
  if (value + uncertainty < limit) return 'below';
  if (value - uncertainty > limit) return 'above';
  return 'within';
}
