// Questions with two answers each. An answer is an event; what nobody answers stays unanswered.
import { usePhone } from '../phone';

export function Prompts({ asked, yes, no }: { asked: string[]; yes: string; no: string }) {
  const phone = usePhone();
  const answer = (says: string, given: string) => phone.record({ kind: 'prompt', fact: { says, answer: given }, source: 'tapped' });
  return (
    <ul class="prompts">
      {asked.map((says) => {
        const given = phone.view.prompts.get(says)?.answer;
        return (
          <li key={says}>
            <p>{says}</p>
            <div class="pair" role="group" aria-label={says}>
              <button type="button" aria-pressed={given === 'yes'} onClick={() => answer(says, 'yes')}>{yes}</button>
              <button type="button" aria-pressed={given === 'no'} onClick={() => answer(says, 'no')}>{no}</button>
            </div>
          </li>
        );
      })}
    </ul>
  );
}
