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
  <form id="clock" aria-label="Clock of the line">
    <output id="now" aria-live="off"></output>
    <button type="button" data-ms="600000">+10 min</button>
    <button type="button" data-ms="3600000">+1 h</button>
    <button type="button" data-ms="86400000">+1 day</button>
    <button type="button" data-next="1">to next event</button>
    <label>minutes <input id="minutes" type="number" min="1" max="500000" value="20"></label>
    <button type="submit">go</button>
  </form>
  <p id="note" role="status"></p>
</header>
<main id="phones"></main>
<template id="phone">
  <section class="phone">
    <div class="top">
      <label class="who">Phone of <select></select></label>
      <label class="net"><input type="checkbox" checked> net</label>
    </div>
    <ol class="texts" aria-live="polite" tabindex="0"></ol>
    <div class="quick"></div>
    <form class="write">
      <label><span class="hidden">Text to the line</span><textarea rows="2" maxlength="10000"></textarea></label>
      <div class="row">
        <output class="count"></output>
        <button type="button" class="again">send again</button>
        <button type="submit">send</button>
      </div>
    </form>
    <div class="pad" role="group" aria-label="Digits"></div>
  </section>
</template>
<script src="/page.js" type="module"></script>
</body>
</html>
`;
