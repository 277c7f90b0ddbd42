import { fillText, rulesThatApply, type TextName } from '../consumer-law/index.ts';
import type { PaperLegalText } from '../documents/index.ts';
import type { Tx } from '../platform/database/database.ts';
import type { Company } from '../platform/database/generated/client.ts';
import { rulesOn } from './rules-on.ts';

/** What a paper has to say by law, in both languages. */
export interface LegalTexts {
  en: PaperLegalText[];
  es: PaperLegalText[];
}

/**
 * The texts that a jurisdiction asks for on a quote of this size, with the company's facts in them.
 * @param totalCents of the dearest option
 */
export async function legalTextsOf(
  prisma: Pick<Tx, 'consumerRule'>,
  sale: { jurisdiction: string; day: string; totalCents: number },
  company: Company,
): Promise<LegalTexts> {
  const rules = await rulesOn(prisma, sale.jurisdiction, sale.day);
  const facts = factsOf(company);
  const inLanguage = (language: 'en' | 'es') =>
    rulesThatApply(rules, sale.totalCents).map(({ title, text }) => ({
      title: title[language],
      text: fillText(text[language], facts),
    }));
  return { en: inLanguage('en'), es: inLanguage('es') };
}

function factsOf(company: Company): Record<TextName, string> {
  const { street, city, region, postalCode } = company;
  return {
    company: company.name,
    address: `${street}, ${city}, ${region} ${postalCode}`,
    phone: company.phone,
    email: company.email,
    license: company.licenseNumber,
    regulator: company.regulator,
  };
}
