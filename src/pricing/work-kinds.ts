/** The kinds of lines that sell work for a finding. The way in is shared, and sold with none alone. */
export const workKinds: readonly string[] = ['part', 'good', 'labor'];
