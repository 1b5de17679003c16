import { Writable } from 'node:stream';
import type { FfmpegCommand } from 'fluent-ffmpeg';
import ffmpeg from 'fluent-ffmpeg';
import { mediaUrl, MOVIE_INPUT } from './media-url.ts';
import type { DecodeInput } from './plan-decode.ts';
import { decodeGraph } from './plan-decode.ts';

export interface DecodeLimits {
  readonly timeoutMs: number;
  readonly maxOutputBytes: number;
  readonly signal: AbortSignal;
}

/**
 * Runs one decode and answers the JPEG stream that FFmpeg wrote. Nothing touches a disk.
 * @throws {Error} when FFmpeg fails, takes longer than the limit, or the signal fires.
 */
export async function runDecode(ffmpegPath: string, inputs: readonly DecodeInput[], widthPx: number, limits: DecodeLimits): Promise<Uint8Array> {
  limits.signal.throwIfAborted();
  const sink = new ByteSink(limits.maxOutputBytes);
  const command = decodeCommand(ffmpegPath, inputs, widthPx);
  const kill = (): void => {
    command.kill('SIGKILL');
  };
  const timer = setTimeout(kill, limits.timeoutMs);
  limits.signal.addEventListener('abort', kill, { once: true });
  try {
    const ended = new Promise<void>((resolve, reject) => {
      command.on('start', () => {
        if (limits.signal.aborted) kill();
      });
      command.on('end', () => resolve());
      command.on('error', (failure: Error) => reject(failure));
    });
    // Both, for the process may be gone before its last bytes have come through.
    command.pipe(sink);
    await Promise.all([ended, sink.finished()]);
    return sink.bytes();
  } catch (failure) {
    throw limits.signal.aborted ? limits.signal.reason : failure;
  } finally {
    clearTimeout(timer);
    limits.signal.removeEventListener('abort', kill);
  }
}

function decodeCommand(ffmpegPath: string, inputs: readonly DecodeInput[], widthPx: number): FfmpegCommand {
  const command = ffmpeg();
  answerForFfmpeg(command);
  command.setFfmpegPath(ffmpegPath);
  for (const { path, format, seekS } of inputs) {
    const options = format === 'movie' ? MOVIE_INPUT : ['-protocol_whitelist', 'file', '-f', format];
    command.input(mediaUrl(path)).inputOptions([...options, ...(seekS === undefined ? [] : ['-ss', seekS.toFixed(6)])]);
  }
  command.outputOptions(['-nostdin', '-v', 'error', '-filter_complex', decodeGraph(inputs, widthPx), '-map', '[out]']);
  command.outputOptions(['-r', '24', '-c:v', 'mjpeg', '-q:v', '3', '-flags:v', '+bitexact', '-threads', '1', '-f', 'image2pipe']);
  return command;
}

/**
 * fluent-ffmpeg asks every ffmpeg for its formats and encoders and reads the tables with patterns made for old versions.
 * What is used here every version has, so it is answered here.
 */
function answerForFfmpeg(command: FfmpegCommand): void {
  const both = { description: '', canDemux: true, canMux: true };
  const formats = { image2pipe: both, exr_pipe: both, dpx_pipe: both, tiff_pipe: both, png_pipe: both };
  // Its types ask for an error where it means "none" by null.
  command.availableFormats = (callback) => Reflect.apply(callback, command, [null, formats]);
  command.availableEncoders = (callback) => Reflect.apply(callback, command, [null, {}]);
}

/** Collects what is written to it. It never says 'close', on which fluent-ffmpeg kills a process that is about to end by itself. */
class ByteSink extends Writable {
  readonly #chunks: Uint8Array[] = [];
  readonly #maxBytes: number;
  readonly #finished: Promise<void>;
  #size = 0;

  constructor(maxBytes: number) {
    super({ emitClose: false });
    this.#maxBytes = maxBytes;
    this.#finished = new Promise((resolve, reject) => {
      this.on('finish', resolve);
      this.on('error', reject);
    });
  }

  override _write(chunk: Uint8Array, _encoding: string, done: (failure?: Error) => void): void {
    this.#size += chunk.length;
    if (this.#size > this.#maxBytes) {
      done(new Error(`ffmpeg wrote more than ${this.#maxBytes} bytes`));
      return;
    }
    this.#chunks.push(chunk);
    done();
  }

  async finished(): Promise<void> {
    return this.#finished;
  }

  bytes(): Uint8Array {
    return Buffer.concat(this.#chunks);
  }
}
