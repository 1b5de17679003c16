import { readFileSync } from 'node:fs';
import { validateXML } from 'xmllint-wasm';

const fixture = (name: string): string => readFileSync(new URL(`../fixtures/mhl/${name}`, import.meta.url), 'utf8');
const MANIFEST = { fileName: 'ASCMHL.xsd', contents: fixture('ASCMHL.xsd') };
const CHAIN = { fileName: 'ASCMHLDirectory.xsd', contents: fixture('ASCMHLDirectory.xsd') };

/** What libxml2 says of a manifest held against the schema of ASC MHL 2.0; empty when it is valid. */
export async function manifestSchemaErrors(text: string): Promise<readonly string[]> {
  const { errors } = await validateXML({ xml: { fileName: 'a.mhl', contents: text }, schema: MANIFEST });
  return errors.map(({ message }) => message);
}

/** The same for a chain file. */
export async function chainSchemaErrors(text: string): Promise<readonly string[]> {
  const { errors } = await validateXML({ xml: { fileName: 'chain.xml', contents: text }, schema: CHAIN, preload: MANIFEST });
  return errors.map(({ message }) => message);
}
