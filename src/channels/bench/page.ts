/** The page of the phone bench. Everything that changes is put in by the script, as text, never as HTML. */
export const pageHtml = `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Phone bench</title>
<link rel="stylesheet" href="/page.css">
</head>
<body>
<header>
  <h1>Phone bench</h1>
  <p class="about">Simulated phones on the real line. Invented people; no text leaves this machine. For practice and trials, never for patients.</p>
  <details>
    <summary>What to write</summary>
    <ul>
      <li>Worker: <kbd>NEW</kbd> begins with a patient, then answer with digits. <kbd>SOS</kbd> at any moment. <kbd>LIST</kbd> shows open cases, <kbd>?</kbd> helps in place, <kbd>B</kbd> goes back.</li>
      <li>Doctor: answer with the digits shown; begin with the tag of the question (<kbd>Q47</kbd>: <kbd>47 1</kbd>) when the answer lets something go on.</li>
      <li>Laboratory, with the code of the case: <kbd>GOT</kbd> code and number of slides, then code and result, for example <kbd>Thy2</kbd>.</li>
      <li>Each phone can be given to another person: choose the name above its screen.</li>
      <li>Net off: texts of that phone wait, both ways, until it is on again. Send again: the network delivers the last text twice.</li>
      <li>The clock of the line goes forward only. What is due on the way happens in its order.</li>
    </ul>
  </details>
  <form id="clock" aria-label="Clock of the line">
    <span class="hidden" id="clock-name">Time of the line</span>
    <output id="now" aria-live="off" aria-labelledby="clock-name"></output>
    <span class="moves" role="group" aria-label="Move the clock forward">
      <button type="button" data-ms="600000">+10 min</button>
      <button type="button" data-ms="3600000">+1 h</button>
      <button type="button" data-ms="86400000">+1 day</button>
      <button type="button" data-next="1">to next event</button>
      <label>by <input id="minutes" type="number" min="1" max="576000" value="20" required> minutes</label>
      <button type="submit">move</button>
    </span>
  </form>
  <p id="note" role="status"></p>
</header>
<main id="phones"></main>
<template id="phone">
  <section class="phone">
    <h2 class="hidden"></h2>
    <div class="top">
      <label class="who"><span>Phone of</span> <select></select></label>
      <label class="net"><input type="checkbox" checked> net on</label>
    </div>
    <ol class="texts" role="log" tabindex="0" aria-label="Texts"></ol>
    <div class="quick" role="group" aria-label="Answers of the last question"></div>
    <form class="write">
      <label><span class="hidden">Text to the line</span><textarea rows="2" maxlength="10000" autocomplete="off" spellcheck="false" placeholder="Text to the line"></textarea></label>
      <div class="row">
        <output class="count">0/160, 1 SMS</output>
        <button type="button" class="again" title="The last text once more, with the same id">send again</button>
        <button type="submit">send</button>
      </div>
    </form>
    <div class="pad" role="group" aria-label="Keys"></div>
  </section>
</template>
<noscript><p>The phone bench needs JavaScript.</p></noscript>
<script src="/page.js" type="module"></script>
</body>
</html>
`;
