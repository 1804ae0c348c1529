import type { IncomingMessage, ServerResponse } from 'node:http';
import { z } from 'zod';
import { MOST_PHOTO_BYTES } from '../photos/photo-shelf.js';
import { askPhones } from './ask-phones.js';
import type { House } from './house/house.js';
import { METRICS_TYPE, metrics, wrongWords } from './house/watch-answers.js';
import { checkHost, checkSameOrigin, putSafeHeaders } from './http/door.js';
import { Refusal, readJson, sendJson, sendRefusal, sendText } from './http/respond.js';
import { answerReview } from './review-routes.js';
import { sendIndex, sendPageFile } from './send-page.js';
import { takeCommand } from './take-command.js';

/** A command is a few lines; a note may bring a photo, which base64 (RFC 4648) makes a third longer. */
const MOST_COMMAND_BYTES = 32_768 + Math.ceil((MOST_PHOTO_BYTES * 4) / 3);
const MOST_BODY_BYTES = 32_768;
const enterSchema = z.strictObject({ word: z.string().max(200) });

/** Answers one request; never rejects. */
export async function answerRequest(
  house: House,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  putSafeHeaders(response);
  try {
    checkHost(request, house.names);
    await route(house, request, response, new URL(request.url ?? '/', 'http://page'));
  } catch (cause) {
    const refusal =
      cause instanceof Refusal
        ? cause
        : new Refusal(500, 'failed', `The house could not answer: ${String((cause as Error).message)}`);
    if (response.headersSent) response.destroy();
    else sendRefusal(request, response, refusal);
  }
}

async function route(house: House, request: IncomingMessage, response: ServerResponse, url: URL) {
  const { method = 'GET' } = request;
  if (method === 'POST') {
    checkSameOrigin(request);
    if (url.pathname === '/api/enter') return enter(house, request, response);
    house.word.check(request);
    if (url.pathname === '/api/phone') {
      const body = await readJson(request, MOST_BODY_BYTES);
      return sendJson(request, response, 200, await askPhones(house.phones, body));
    }
    if (url.pathname !== '/api/command') throw nothingThere(url);
    const answer = await takeCommand(
      house.live,
      house.photos,
      house.config.page.photosMb,
      await readJson(request, MOST_COMMAND_BYTES),
    );
    return sendJson(request, response, answer.ok ? 200 : 409, answer);
  }
  if (method !== 'GET' && method !== 'HEAD')
    throw new Refusal(405, 'method', `${method} is not answered here; use GET or POST.`);
  if (url.pathname === '/healthz') return sendHealth(house, request, response);
  if (url.pathname === '/metrics') return sendMetrics(house, request, response);
  if (!url.pathname.startsWith('/api/')) {
    const file = house.files.get(url.pathname);
    if (url.pathname === '/' || url.pathname === '/index.html') return sendIndex(house, request, response);
    if (file === undefined) throw nothingThere(url);
    return sendPageFile(request, response, file);
  }
  house.word.check(request);
  if (url.pathname === '/api/present') return sendJson(request, response, 200, house.teller.picture());
  if (url.pathname === '/api/live') return follow(house, request, response, url);
  const photo = /^\/api\/photo\/([0-9a-f]{24})$/.exec(url.pathname)?.[1];
  if (photo !== undefined) return sendPhoto(house, response, photo, url);
  const answer = await answerReview(house, url);
  if (answer === undefined) throw nothingThere(url);
  return sendJson(request, response, 200, answer);
}

/** Says to anybody whether the watchman is well; what exactly is not, with names, to who may know. */
function sendHealth(house: House, request: IncomingMessage, response: ServerResponse): void {
  const wrong = wrongWords(house.live.present().health, house.vitals(), house.word.admits(request));
  const text = wrong.length === 0 ? 'ok' : wrong.join('\n');
  sendText(response, wrong.length === 0 ? 200 : 503, 'text/plain; charset=utf-8', `${text}\n`);
}

async function sendMetrics(house: House, request: IncomingMessage, response: ServerResponse): Promise<void> {
  await house.word.checkProgram(request);
  sendText(response, 200, METRICS_TYPE, metrics(house.live, house.config.farm, house.vitals()));
}

async function sendPhoto(house: House, response: ServerResponse, id: string, url: URL): Promise<void> {
  const jpeg = await house.photos?.read(id);
  if (jpeg === undefined) throw nothingThere(url);
  response.setHeader('Content-Type', 'image/jpeg');
  response.setHeader('Cache-Control', 'private, max-age=86400');
  response.writeHead(200, { 'Content-Length': jpeg.length });
  response.end(jpeg);
}

function nothingThere(url: URL): Refusal {
  return new Refusal(404, 'not-found', `There is nothing at "${url.pathname}".`);
}

async function enter(house: House, request: IncomingMessage, response: ServerResponse): Promise<void> {
  const said = enterSchema.safeParse(await readJson(request, MOST_BODY_BYTES));
  if (!said.success) throw new Refusal(400, 'malformed', 'Expected {"word": "…"}.');
  response.setHeader('Set-Cookie', await house.word.enter(request, said.data.word));
  sendJson(request, response, 200, { code: 'done', sentence: 'Come in.' });
}

function follow(house: House, request: IncomingMessage, response: ServerResponse, url: URL): void {
  const lastSeen = request.headers['last-event-id'];
  const after = typeof lastSeen === 'string' ? lastSeen : (url.searchParams.get('after') ?? undefined);
  if (!house.teller.stream.open(request, response, after))
    throw new Refusal(503, 'too-many-pages', 'Too many pages follow the farm at once; close some.');
}
