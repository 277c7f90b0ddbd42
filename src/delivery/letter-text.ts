import type { PaperCompany } from '../documents/index.ts';
import { oneLine } from '../platform/one-line.ts';
import type { Letter, LetterText } from './letter.ts';
import { letterWords } from './letter-words.ts';
import { saidOf } from './said-of.ts';

/**
 * The mail around a paper, as plain text: what it is, what it says in short, what to do now, and
 * whom to call. It says nothing that the paper does not say, but how things stand by now.
 */
export function letterText(letter: Letter): LetterText {
  const { company, language } = letter.paper.paper;
  const words = letterWords[language];
  const said = saidOf(letter);
  const text = [
    words.hello(oneLine(letter.toName)),
    ...said.paragraphs,
    (letter.others ?? []).length === 0 ? words.attached : words.allAttached,
    ...footOf(company, words),
  ]
    .map((paragraph) => paragraph.trim())
    .join('\n\n');
  return { subject: said.subject, text: `${text}\n`, language };
}

function footOf(company: PaperCompany, words: (typeof letterWords)['en']): string[] {
  const { street, city, region, postalCode } = company.address;
  return [
    words.questions(company.phone),
    [
      company.name,
      `${street}, ${city}, ${region} ${postalCode}`,
      words.license(company.licenseNumber),
    ].join('\n'),
  ];
}
