/** A text in which neither a database address nor its password is left, however an error quotes them. */
export function withoutSecrets(text: string, databaseUrl: string): string {
  // The longest first: one way to write a password may begin like another.
  const secrets = [databaseUrl, ...passwordsOf(databaseUrl)].filter((secret) => secret !== '').toSorted((a, b) => b.length - a.length);
  return secrets.reduce((clean, secret) => clean.replaceAll(secret, '…'), text).replaceAll(/(postgres(?:ql)?:\/\/[^:@/\s]*):[^@/\s]*@/giu, '$1:…@');
}

/** The password as it is written in the address, as it is meant, and as a program would write it. */
function passwordsOf(databaseUrl: string): readonly string[] {
  const written = [/^[^:]+:\/\/[^:@/]*:([^/?#]*)@/u.exec(databaseUrl)?.[1] ?? '', /[?&]password=([^&#]*)/u.exec(databaseUrl)?.[1] ?? ''];
  return written.flatMap((one) => [one, decoded(one), encodeURIComponent(decoded(one)), encodeURI(decoded(one))]);
}

function decoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}
