/** 'Visit fee $89.00  +  Tax $7.34  =  $96.34': of all but the first the sign stands before the words. */
export function sumInWords(
  parts: readonly { label: string; amount: string }[],
  total: string,
): string {
  return `${parts.map(summand).join('')}  =  ${total}`;
}

function summand({ label, amount }: { label: string; amount: string }, at: number): string {
  if (at === 0) return `${label} ${amount}`;
  if (amount.startsWith('−')) return `  −  ${label} ${amount.slice(1)}`;
  return `  +  ${label} ${amount}`;
}
