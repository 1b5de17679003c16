import { BOARD_POLICY } from './board-script.ts';
import { BOARD_STYLE } from './board-style.ts';
import { POLICY_TAG } from './board.ts';
import { html } from './html.ts';
import { LIVE_SCRIPT, LIVE_SOURCE } from './live-script.ts';

/** What a served board may do: what a board may, the script that keeps it current, and asking its own server. */
export const LIVE_POLICY = `${BOARD_POLICY.replace('script-src ', `script-src ${LIVE_SOURCE} `)}; connect-src 'self'; frame-ancestors 'none'`;

/** How many of a board's first letters `liveHead` must see. */
export const HEAD_LENGTH = 2048;

/**
 * The beginning of a board, made live: its own policy gives way to the server's header, and the script that keeps it current stands in
 * its place. `version` is what the server calls the board. Undefined when this is no board of this gemel.
 */
export function liveHead(head: string, version: string): string | undefined {
  return head.includes(POLICY_TAG) ? head.replace(POLICY_TAG, () => scriptTag(version)) : undefined;
}

/** What is shown until there is a board. It asks for it by itself. */
export function waitingPage(): string {
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
${{ markup: scriptTag('') }}
<link rel="icon" href="data:,">
<title>Day board</title>
<style>${{ markup: BOARD_STYLE }}</style>
</head>
<body>
<header class="top"><h1>Day board</h1></header>
<main><p>There is no board yet. It appears here as soon as the first sets are judged.</p></main>
</body>
</html>
`.markup;
}

function scriptTag(version: string): string {
  return html`<script data-board="${version}">${{ markup: LIVE_SCRIPT }}</script>`.markup;
}
