import { BOARD_STYLE } from './board-style.ts';
import type { Html } from './html.ts';
import { html } from './html.ts';

/** The page that leads to what lies beside a served board: sheets, repeat cards and the report, by name ("sheets/27B-A.pdf"). */
export function formatFilesPage(files: readonly string[]): string {
  const entry = (file: string): Html => html`<li><a href="${file.split('/').map(encodeURIComponent).join('/')}"><bdi>${file}</bdi></a></li>
`;
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<link rel="icon" href="data:,">
<title>Sheets and repeat cards</title>
<style>${{ markup: BOARD_STYLE }}</style>
</head>
<body>
<header class="top"><h1>Sheets and repeat cards</h1></header>
<main>
<p><a href="/">Day board</a></p>
<ul class="files">
${files.toSorted((a, b) => (a < b ? -1 : 1)).map(entry)}</ul>
</main>
</body>
</html>
`.markup;
}
