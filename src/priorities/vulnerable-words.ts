/**
 * The groups of people that the phone checks ask for, as a sentence says that they are at home. A
 * group of a later script that is not here is said by its code.
 */
const words: Readonly<Record<string, string>> = {
  older_adult: 'somebody 65 or older',
  small_child: 'a small child',
  pregnant: 'somebody pregnant',
  ill: 'somebody ill',
  medicines: 'somebody on daily medicines',
  oxygen_or_device: 'somebody on oxygen or a medical device',
};

export function vulnerableWords(group: string): string {
  return words[group] ?? group.replaceAll('_', ' ');
}
