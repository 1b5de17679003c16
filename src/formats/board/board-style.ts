/** The board's one style sheet: light and dark by the reader's setting, one column on a phone and two on a cart, a page a set in print. No text of a file ever stands in it. */
export const BOARD_STYLE = `
:root{--paper:#fff;--ground:#f1f3f4;--ink:#16191c;--faint:#5b6369;--rule:#c9ced2;--accent:#1d4e63;--no:#a3171b;--look:#8a5a00;--yes:#1b6b3a}
@media (prefers-color-scheme:dark){:root{--paper:#1b1f22;--ground:#121517;--ink:#e8eaec;--faint:#a2abb1;--rule:#3c444a;--accent:#8cc3d9;--no:#ff8f8a;--look:#f0bd5a;--yes:#7fd6a0}}
*{box-sizing:border-box}
html{scroll-padding-top:1rem}
body{margin:0 auto;padding:1rem;max-width:90rem;background:var(--ground);color:var(--ink);font:1rem/1.45 system-ui,"DejaVu Sans",sans-serif;overflow-wrap:anywhere}
a{color:inherit}
:focus-visible{outline:3px solid var(--accent);outline-offset:2px}
main:focus{outline:0}
[hidden]{display:none!important}
.skip{position:absolute;left:-99rem}
.skip:focus{left:1rem;top:.5rem;z-index:3;background:var(--paper);padding:.5rem}
.top{display:flex;flex-wrap:wrap;align-items:center;gap:.2rem 1.5rem}
h1{font-size:1.5rem;line-height:1.2;margin:.3rem 0;min-width:0}
bdi{unicode-bidi:isolate}
h2{font-size:1.9rem;line-height:1.1;margin:0}
h2 small{font-size:1rem;font-weight:400}
h3{font-size:1.05rem;margin:1.2rem 0 .4rem}
h4{font-size:.85rem;color:var(--accent);margin:.9rem 0 .2rem}
p{margin:.3rem 0}
.totals{display:flex;flex-wrap:wrap;gap:.5rem;list-style:none;padding:0;margin:.3rem 0}
.totals .badge{font-size:1.2rem}
.badge{border:2px solid;border-radius:.3rem;padding:.1rem .6rem;font-weight:700;white-space:nowrap;text-transform:uppercase}
.no{color:var(--no)}.look{color:var(--look)}.yes{color:var(--yes)}
table{border-collapse:collapse;width:100%}
caption{text-align:left;font-weight:700;padding:.3rem 0}
th,td{text-align:left;vertical-align:top;padding:.35rem .6rem .35rem 0;border-bottom:1px solid var(--rule)}
.number{text-align:right;padding-right:1.6rem;white-space:nowrap}
.overview th{min-width:4.2rem}
.overview a{display:-webkit-box;-webkit-box-orient:vertical;-webkit-line-clamp:3;overflow:hidden;padding-bottom:.1rem}
.overview .badge{border-width:1px;font-size:.85rem}
#filter{display:flex;flex-wrap:wrap;gap:.6rem 1.2rem;align-items:end;background:var(--paper);border:1px solid var(--rule);border-radius:.4rem;padding:.7rem 1rem;margin:.8rem 0 .4rem}
#filter>div{flex:0 1 11rem;min-width:0}
#filter>div:first-child{flex:1 1 16rem}
#filter label,legend{font-size:.85rem;color:var(--faint);padding:0}
input[type=search],select,button{display:block;width:100%;min-height:2.75rem;font:inherit;color:inherit;background:var(--ground);border:1px solid var(--faint);border-radius:.3rem;padding:.3rem .6rem}
button{width:auto;cursor:pointer}
button:disabled{color:var(--faint);border-color:var(--rule);cursor:default}
fieldset{display:flex;flex-wrap:wrap;gap:.4rem;border:0;padding:0;margin:0;min-width:0}
#filter .box{display:flex;align-items:center;gap:.45rem;min-height:2.75rem;border:1px solid var(--faint);border-radius:.3rem;padding:.3rem .7rem;font-size:1rem;color:var(--ink);cursor:pointer}
.box:has(:checked){border-color:var(--ink);box-shadow:inset 0 0 0 1px var(--ink)}
.box>span{white-space:nowrap;font-weight:700;text-transform:uppercase}
.box input{width:1.2rem;height:1.2rem;margin:0;accent-color:var(--accent)}
#shown{min-height:1.45em;margin:.2rem 0;color:var(--faint)}
#shown.narrowed{color:var(--ink);font-weight:700}
#live{flex-basis:100%;margin:0;font-size:.9rem;color:var(--faint)}
#live.lost{color:var(--ink);font-weight:700;border:2px solid var(--no);border-radius:.3rem;padding:.4rem .7rem}
.files li{padding:.5rem 0}
.parts{display:flex;flex-wrap:wrap;gap:0 2rem}
.parts>div{flex:1 1 30rem;min-width:0}
.parts>div>:first-child{margin-top:.9rem}
.back{text-align:right;font-size:.85rem}
.set{background:var(--paper);border:1px solid var(--rule);border-radius:.4rem;padding:1rem;margin:1.2rem 0;content-visibility:auto;contain-intrinsic-size:auto 46rem}
.set>header{display:flex;flex-wrap:wrap;justify-content:space-between;align-items:center;gap:.5rem;border-bottom:3px solid;padding-bottom:.6rem}
.set>header h2{color:var(--ink);min-width:0}
.verdict{border:2px solid;border-radius:.3rem;padding:.2rem .7rem}
.verdict b{font-size:1.3rem}
.reason{margin-top:.6rem;font-weight:700;font-size:1.1rem}
.reason::first-letter{text-transform:uppercase}
.method,.aside,.from{color:var(--faint);font-size:.85rem}
.pictures{display:grid;grid-template-columns:repeat(auto-fill,minmax(8.2rem,1fr));gap:.6rem;margin:.8rem 0}
figure{margin:0}
figcaption{font-size:.85rem;color:var(--faint)}
figcaption b{color:var(--ink)}
.pictures img,.no-picture{display:block;width:100%;aspect-ratio:16/9;object-fit:contain;background:var(--ground)}
.no-picture{display:grid;place-items:center;border:1px dashed var(--rule);font-size:.85rem;color:var(--faint);text-align:center}
.timeline{margin:1rem 0;container-type:inline-size}
.pass{font-size:.85rem;margin:.45rem 0 .1rem}
.track{position:relative;height:1rem;overflow:hidden}
.track i,.scale span{position:absolute}
.track i{top:0;height:100%}
.pull{background:var(--ground)}
.cut{background:var(--rule);opacity:.6;border-left:1px solid var(--ink);border-right:1px solid var(--ink)}
.track .bar{top:.2rem;height:.6rem;border:1px solid var(--accent)}
.bar.lead{background:var(--accent)}
.bar.swapped{background:color-mix(in srgb,var(--accent) 45%,var(--paper))}
.bar.clean,.bar.element,.bar.reference,.bar.unknown{background:var(--paper)}
.track .missing{top:.1rem;height:.8rem;border:1px solid var(--ink);background:repeating-linear-gradient(135deg,var(--ink) 0 1px,var(--paper) 1px 4px)}
.track .missing.handle{border-style:dashed;background:repeating-linear-gradient(135deg,var(--ink) 0 1px,var(--paper) 1px 8px)}
.scale{position:relative;height:2.2rem;margin-top:.2rem;font-size:.7rem;line-height:1.2;color:var(--faint);overflow:hidden}
.scale span{transform:translateX(-50%);white-space:nowrap;text-align:center}
.scale span:first-child{transform:none;text-align:left}
.scale span:last-child{transform:translateX(-100%);text-align:right}
.findings{list-style:none;padding:0;margin:0}
.findings li{color:inherit;border-top:1px solid var(--rule);padding:.5rem 0}
.severity{display:inline-block;min-width:3.2rem;text-align:center;border:1px solid;border-radius:.2rem;text-transform:uppercase;font-size:.75rem;font-weight:700}
.stop .severity{background:var(--ink);color:var(--paper)}
.note .severity{border-color:transparent;text-align:left}
.remedy{font-weight:700}
.note .remedy{font-weight:400}
.card{border:2px solid var(--ink);border-radius:.4rem;padding:.8rem 1rem;margin:1.2rem 0}
.card h3{font-size:1.4rem;margin:0}
.card dl{display:grid;grid-template-columns:repeat(auto-fill,minmax(11rem,1fr));gap:.4rem .8rem;margin:0}
dt{font-size:.8rem;color:var(--faint)}
dd{margin:0;font-weight:700;font-size:1.15rem}
dd small{font-size:.7rem;font-weight:400;color:var(--faint)}
section.set>dl dd{font-weight:400;font-size:1rem}
.card .tolerance{font-weight:400;font-size:1rem}
.card .also{display:block;font-weight:400;font-size:.9rem}
.marks{list-style:none;margin:0;padding:0}
.marks li{padding:.35rem 0;border-bottom:1px solid var(--rule)}
.not-noted{border:1px solid var(--ink);border-radius:.3rem;padding:0 .7rem .5rem;margin:.9rem 0}
.not-noted ul{margin:0;padding-left:1.1rem}
footer{color:var(--faint);font-size:.85rem;margin:2rem 0 1rem}
@container (max-width:44rem){.scale span:nth-child(even):not(:last-child),.scale span:nth-last-child(2):not(:first-child){display:none}}
@container (max-width:24rem){.scale span:nth-child(4n+3):not(:last-child){display:none}}
@media (max-width:40rem){.totals .badge{font-size:1.05rem;padding:.1rem .5rem}#filter{padding:.7rem .8rem}#filter>div{flex:1 1 7rem}fieldset{width:100%}#filter .box{flex:1 1 auto;padding:.3rem .5rem;font-size:.95rem;justify-content:center}.box [aria-hidden]{display:none}.overview td:nth-child(3),.overview td:nth-child(4),.overview th:nth-child(3),.overview th:nth-child(4){display:none}}
@media (min-width:60rem){html{font-size:1.125rem}}
@media (min-width:60rem) and (min-height:40rem){html.filters{scroll-padding-top:7rem}#filter{position:sticky;top:0;z-index:2;box-shadow:0 .3rem .6rem -.4rem #0008}}
@media print{:root{--paper:#fff;--ground:#f1f3f4;--ink:#000;--faint:#444;--rule:#bbb;--accent:#1d4e63;--no:#000;--look:#000;--yes:#000}body{max-width:none;padding:0;background:#fff}html{font-size:9pt}.skip,#filter,#live,.back,#shown:not(.narrowed){display:none}.set{border:0;border-radius:0;padding:0;margin:0;break-before:page;content-visibility:visible}.parts{display:block}h2,h3,h4,.set>header,.pass{break-after:avoid}tr,.timeline,.findings li,.card,.pictures figure{break-inside:avoid}thead{display:table-header-group}a{text-decoration:none}.track i,.severity{print-color-adjust:exact;-webkit-print-color-adjust:exact}}
`;
