import { useState } from 'preact/hooks';
import { useHouse } from '../house/house.js';

/** Asks for the access word of the farm, once on each phone. */
export function Door() {
  const { texts } = useHouse();
  const [word, setWord] = useState('');
  const [problem, setProblem] = useState('');
  const enter = async (): Promise<void> => {
    try {
      const response = await fetch('/api/enter', {
        method: 'POST',
        headers: { 'Content-Type': 'application/json' },
        body: JSON.stringify({ word }),
      });
      if (response.ok) location.reload();
      else {
        const { code, sentence } = (await response.json()) as { code: string; sentence: string };
        const known: Readonly<Record<string, string>> = texts.door.refusals;
        setProblem(known[code] ?? sentence);
      }
    } catch (cause) {
      if (!(cause instanceof TypeError)) throw cause;
      setProblem(texts.tell.noContact);
    }
  };
  return (
    <main class="door">
      <h1>{texts.door.title}</h1>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void enter();
        }}
      >
        <label class="field">
          <span>{texts.door.ask}</span>
          <input
            type="password"
            autoComplete="current-password"
            required
            value={word}
            onInput={(event) => setWord(event.currentTarget.value)}
          />
        </label>
        <button type="submit" class="press press-round press-wide">
          {texts.door.enter}
        </button>
        <p role="alert" class="problem">
          {problem}
        </p>
      </form>
    </main>
  );
}
