import { describe, expect, it } from 'vitest';
import { SettledStore } from '../../src/pipeline/settled-store.ts';
import { MemoryStore } from '../support/memory-ports.ts';

describe('a store that shows only what has settled', () => {
  it('cuts the listing down and reads as ever', async () => {
    const signal = new AbortController().signal;
    const store = new SettledStore(new MemoryStore({ 'a.mov': { bytes: 'abc' }, 'b.mov': { bytes: 'defg' } }), ({ files, unreachable }) => ({ files: files.filter(({ file }) => file === 'b.mov'), unreachable }));
    expect((await store.list(signal)).files.map(({ file }) => file)).toEqual(['b.mov']);
    expect(Buffer.from(await store.readWhole('/media/b.mov', 10, signal)).toString()).toBe('defg');
    expect(Buffer.from(await store.readBytes('/media/b.mov', 1, 2, signal)).toString()).toBe('ef');
    const open = await store.open('/media/b.mov', signal);
    expect(open.size).toBe(4);
    await open.close();
  });
});
