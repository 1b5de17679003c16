/** A text in which neither a database address nor its password is left, however an error quotes them. */
export function withoutSecrets(text: string, databaseUrl: string): string {
  const secrets = [databaseUrl, ...passwordsOf(databaseUrl)].filter((secret) => secret !== '');
  return secrets.reduce((clean, secret) => clean.replaceAll(secret, '…'), text).replaceAll(/(postgres(?:ql)?:\/\/[^:@/\s]*):[^@/\s]*@/giu, '$1:…@');
}

function passwordsOf(databaseUrl: string): readonly string[] {
  try {
    const { password, searchParams } = new URL(databaseUrl);
    return [password, decodeURIComponent(password), searchParams.get('password') ?? ''];
  } catch {
    return [];
  }
}
