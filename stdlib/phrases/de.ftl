# Deutsch. Anweisungen stehen im Infinitiv, ohne Artikel, wie in technischen Unterlagen üblich.

decimal-sign = ,
list-and = { $first } und { $last }
list-or = { $first } oder { $last }
date = { $day }. { $month } { $year }
month-01 = Januar
month-02 = Februar
month-03 = März
month-04 = April
month-05 = Mai
month-06 = Juni
month-07 = Juli
month-08 = August
month-09 = September
month-10 = Oktober
month-11 = November
month-12 = Dezember

## Einheiten, die Wörter sind
unit-turns = { $count ->
    [one] Umdrehung
   *[other] Umdrehungen
  }
unit-months = { $count ->
    [one] Monat
   *[other] Monate
  }
unit-years = { $count ->
    [one] Jahr
   *[other] Jahre
  }
unit-inch = Zoll
unit-parts = Teile

## Drücke
qualifier-gauge = Überdruck
qualifier-absolute = absolut

## Grenzen
limit-at-most = höchstens { $value }
limit-at-least = mindestens { $value }
limit-under = unter { $value }
limit-over = über { $value }
limit-between = { $lower } bis { $upper }
limit-over-to = über { $lower } bis { $upper }
limit-to-under = { $lower } bis unter { $upper }
limit-over-to-under = über { $lower } bis unter { $upper }
limit-any = jeder Wert
limit-outside = außerhalb { $limit }
figure-about = etwa { $figure }

## Was hinter einer Zeile steht
part-stages = : { $stages }
part-quantity = , { $quantity }
part-with = {" "}mit { $with }
part-sense = {" "}{ $sense }
part-effort = , { $effort }
part-effort-limit = {" "}({ $effort-limit })
part-seen-from = , gesehen von: { $seen-from }
part-instrument = {" "}({ $instrument })
part-points = : { $points }
part-pattern = , { $pattern }
part-by = {" "}({ $by })
part-because = {" "}({ $because })
order-caption = In der Reihenfolge der Nummern
order-circle = Reihenfolge, im Uhrzeigersinn gezählt, Anfang beliebig: { $order }
order-rectangle = Reihenfolge, im Uhrzeigersinn von oben links gezählt: { $order }
order-row = Reihenfolge, von links gezählt: { $order }
order-listed = Reihenfolge, gezählt wie aufgeführt: { $order }
stage-torque = { $torque }
stage-angle = um { $angle } weiterdrehen
stage-then = , dann{" "}
word-clockwise = im Uhrzeigersinn
word-anticlockwise = gegen den Uhrzeigersinn
word-crosswise = über Kreuz
word-spiral = in einer Spirale
word-on-pitch-circle = auf dem Lochkreis
word-on-rectangle = im Rechteck { $rows }
word-in-a-row = in einer Reihe
word-on-points = an den Stellen { $places }

## Eingebaute Handlungen
act-step = Erledigt
act-set = { $state }: { $value }
act-measure-roughly = { $reading } ungefähr messen
act-measure = { $reading } messen
act-one-limit = Mit { $instrument }: { $reading } { $limit }?
act-one-limit-point = Mit { $instrument }: { $reading } an { $points } { $limit }?
act-one-limit-points = Mit { $instrument }: { $reading } { $limit } an { $points }, überall?
act-measure-which = { $reading }: mit dem ersten davon prüfen, das da ist, und es ankreuzen:
act-count = { $reading } zählen
act-observe = Ansehen: { $reading }
act-record = { $reading } aufschreiben
act-confirm = Sicherstellen: { $statement }
act-check = { $reading } ausrechnen
act-choose = { $reading } auswählen
act-wait = { $duration } warten
act-wait-since = Warten, bis { $duration } seit dem Ende von Schritt { $step } vergangen sind
act-hold = { $who }: { $thing } halten, bis Schritt { $step } erledigt ist
act-hold-how = { $who }: { $thing } halten, bis Schritt { $step } erledigt ist: { $how }
act-begin-when-held = Erst beginnen, wenn { $thing } gehalten wird ({ $by })
act-sign-apart-all = { $statement } Unterschrift: { $who }, ohne an den Schritten { $steps } mitgewirkt zu haben
act-sign-apart = { $statement } Unterschrift: { $who }, ohne an Schritt { $step } mitgewirkt zu haben
act-let-go = Erst loslassen, wenn Schritt { $step } erledigt ist
act-let-go-now = { $who }: { $thing } erst jetzt loslassen
act-let-go-if-held = { $who }: falls { $thing } gehalten wird, erst jetzt loslassen
left-so = Die Maschine bleibt so zurück: { $how }
act-sign = { $statement } Unterschrift: { $who }
act-apply = { $what } auftragen: { $thing }
act-fit-tool = { $tool } einsetzen
act-remove-tool = { $tool } herausnehmen

## Elemente
bolts-slacken = { $count } { $thing } lösen
bolts-remove = { $count } { $thing } herausdrehen
bolts-fit = { $count } { $thing } von Hand eindrehen
bolts-renew = { $count } neue { $thing } von Hand eindrehen
bolts-nip = { $count } { $thing } leicht anlegen
bolts-tighten = { $count } { $thing } anziehen
bolts-retighten = { $count } { $thing } nachziehen
nuts-slacken = { $count } { $thing } lösen
nuts-remove = { $count } { $thing } abnehmen
nuts-fit = { $count } { $thing } von Hand aufdrehen
nuts-renew = { $count } neue { $thing } von Hand aufdrehen
nuts-nip = { $count } { $thing } leicht anlegen
nuts-tighten = { $count } { $thing } anziehen
nuts-retighten = { $count } { $thing } nachziehen
plug-slacken = { $thing } lösen
plug-remove = { $thing } herausdrehen
plug-fit = { $thing } von Hand eindrehen
plug-renew = Neuteil von Hand eindrehen: { $thing }
plug-nip = { $thing } leicht anlegen
plug-tighten = { $thing } anziehen
plug-retighten = { $thing } nachziehen
part-remove = { $thing } ausbauen
part-fit = { $thing } einbauen
part-renew = Neuteil einbauen: { $thing }
part-press = Auf { $thing } drücken
seal-remove = { $thing } herausnehmen
seal-fit = { $thing } einsetzen
seal-renew = Neuteil einsetzen: { $thing }
cover-open = { $thing } öffnen
cover-close = { $thing } schließen
connector-disconnect = { $thing } trennen
connector-connect = { $thing } verbinden
connector-cap = { $thing } verschließen
hose-disconnect = { $thing } trennen
hose-connect = { $thing } anschließen
hose-renew = Neuteil anschließen: { $thing }
hose-cap = { $thing } verschließen
fluid-drain = { $thing } ablassen
fluid-fill = { $quantity } { $with } einfüllen
fluid-top-up = Mit { $quantity } { $with } auffüllen
lock-lock = { $thing } abschließen
lock-unlock = { $thing } aufschließen
clips-remove = { $count } { $thing } abnehmen
clips-fit = { $count } { $thing } ansetzen
clips-renew = { $count } neue { $thing } ansetzen
latch-open = { $thing } öffnen
latch-close = { $thing } schließen
lockwire-cut = { $thing } durchschneiden und herausnehmen
lockwire-renew = Neuteil anbringen: { $thing }
shaft-turn = { $thing } drehen
adjuster-turn = { $thing } drehen
special-tool-fit = { $thing } einsetzen
special-tool-remove = { $thing } herausnehmen
spring-load = { $thing } spannen
spring-relax = { $thing } entspannen

## Zustände der Elemente
value-in-place = eingebaut
value-removed = ausgebaut
value-fitted = eingesetzt
value-out = heraus
value-slack = lose
value-snug = angelegt
value-tight = fest
value-full = voll
value-drained = abgelassen
value-joined = verbunden
value-parted = getrennt
value-oiled = geölt
value-dry = trocken
value-moly-greased = mit Molybdänpaste
value-thread-locked = mit Gewindesicherung
threads-of = Gewinde: { $thing }
value-locked = abgeschlossen
value-unlocked = aufgeschlossen
value-cover-open = offen
value-cover-closed = geschlossen
value-latch-open = offen
value-latch-closed = geschlossen
value-clips-off = abgenommen
value-lockwire-cut = durchgeschnitten
value-spring-relaxed = entspannt
value-spring-loaded = gespannt
value-answer-yes = ja
value-answer-no = nein
value-bolts-new = neu
value-bolts-used = gebraucht
value-nuts-new = neu
value-nuts-used = gebraucht
value-plug-new = neu
value-plug-used = gebraucht

name-signature = Unterschrift
name-light-finger = leichter Fingerdruck
name-firm-thumb = fester Daumendruck
name-one-hand = Kraft einer Hand
name-two-hands = Kraft beider Hände

## Vorsicht
caution-sealed = Nicht berühren: { $part } ({ $because })
caution-applies = { $instrument } legt beim Messen { $limit } an.
caution-proved-on = { $instrument } vorher und nachher an { $source } prüfen
caution-as-written = In { $unit } ablesen: was daraus folgt, wird nicht umgerechnet.
caution-expected = Erwartet: { $limit }. Mit einem anderen Wert nicht weiterarbeiten: noch einmal messen.
caution-expected-count = Erwartet: { $limit }. Mit einer anderen Zahl nicht weiterarbeiten: noch einmal zählen.
caution-evenly = Gleichmäßig anziehen: alle tragen eine Last gemeinsam, und was eine lose nicht trägt, tragen die anderen.
caution-guarded = Die Grenze ist { $limit }. Sie ist um so viel enger gezogen, wie die Ablesung falsch sein kann. { $undecided }
caution-before-rounding = Den Wert vergleichen, bevor er gerundet wird.
caution-guarded-by = Nur annehmen, was um mindestens { $by } innerhalb der Grenze liegt: um so viel kann die Ablesung falsch sein. { $undecided }
caution-guarded-rows = Die Grenzen in der Tabelle sind um so viel enger gezogen, wie die Ablesungen falsch sein können. { $undecided }
guarded-by-ends = { $lower } (untere Grenze), { $upper } (obere Grenze)
guarded-undecided-here = Eine Ablesung zwischen dem, was gilt, und dem, was nicht gilt, ist unentschieden: { $instrument } nehmen und neu angeben, womit gemessen wird.
caution-guarded-arms = Wo zwei Ergebnisse aneinanderstoßen, ist das sicherere um so viel enger gezogen, wie die Ablesung falsch sein kann. Die Grenzen sind { $limits }.
outside-by-more = { $outside }, um mehr als { $by }
limit-see-table = siehe Tabelle
inside-of-rows = innerhalb der Grenzen in der Tabelle
outside-of-rows = außerhalb der Grenzen in der Tabelle
outside-of-rows-by-more = außerhalb der Grenzen in der Tabelle um mehr als { $by }
outside-unless-inside = nicht um mindestens { $by } innerhalb der Grenze
guarded-undecided = Was zwischen angenommen und abgelehnt liegt, ist unentschieden: mit einem besseren Messgerät noch einmal messen, die Arbeit wartet.
caution-as-read = Hier gilt, was abgelesen wird: es kann durchgehen, was das andere Messgerät nicht durchlässt.
caution-coarser = Hier wird nur auf { $own } abgelesen ({ $instrument }: auf { $other }).
caution-rougher = Die Ablesung kann um bis zu { $own } falsch sein ({ $instrument }: um bis zu { $other }).
caution-open-low = Dies zeigt nicht, ob { $reading } zu niedrig ist.
caution-open-high = Dies zeigt nicht, ob { $reading } zu hoch ist.
note-open-low = nicht entschieden: { $reading } zu niedrig
note-open-high = nicht entschieden: { $reading } zu hoch
caution-open-noting = { $note }
guarded-outside = Was nicht sicher innerhalb liegt, zählt als außerhalb.
guarded-likely = Die Breite folgt aus der Standardunsicherheit des Messgeräts: von 100 Ablesungen am Rand können 5 dennoch falsch sein.

## Rechenzeilen
fold-max = größter { $of }
fold-min = kleinster { $of }
fold-mean = Mittel von { $of }
fold-spread = größter weniger kleinster { $of }
fold-sum = Summe von { $of }
fold-count = Anzahl von { $of }
fold-abs = { $of } ohne Vorzeichen

## Auswahl
choose-rule = { $prefer } nehmen, für die gilt: { $target } { $limit }. ({ $rule }. Es gibt: { $sizes }.)
choose-largest = Die größte
choose-smallest = Die kleinste
choose-nearest = Die, mit der { $target } am nächsten an { $to } liegt,
choose-steps = { $lower } bis { $upper } in Schritten von { $step }
choose-fewest = Die aus den wenigsten Stücken
choose-stack = Bis zu { $most } dürfen zusammengelegt werden, auch mehrere von einer Größe; { $reading } ist ihre Summe.
choose-stack-once = Bis zu { $most } dürfen zusammengelegt werden, jede Größe einmal; { $reading } ist ihre Summe.
table-accept = Annehmen
table-proportion = Zwischen zwei Zeilen im Verhältnis nehmen; in der Mitte, bei { $key }: { $value }.
table-next-lower = Zwischen zwei Zeilen die Zeile mit dem nächstkleineren Wert nehmen.
table-nothing = Zwischen den Zeilen gibt es keine Werte.
table-source = Nach { $source }.
choose-tie-nearest = Von zwei gleich nahen die kleinere nehmen.
choose-tie-fewest = Bei gleich vielen die mit der kleineren Summe nehmen, und bei gleicher Summe die mit dem größten Stück.
choose-tie-stack = Bei gleicher Summe die wenigsten Stücke nehmen, und von diesen die mit dem größten Stück.
choose-tie-nearest-stack = Von zwei gleich nahen Summen die kleinere nehmen; bei gleicher Summe die wenigsten Stücke, und von diesen die mit dem größten Stück.
choose-no-table = Eine Tabelle gibt es dazu nicht: Es geht nicht nach einer Zahl mit wenigen Stellen.
choose-none = nichts passt
choose-none-when = nichts passt

## Folgen
outcome-when = { $when }:
outcome-when-one = ein Wert { $when }:
outcome-otherwise = sonst
outcome-do-below = Das Folgende ausführen.
outcome-do-below-then = Zuerst das Folgende ausführen, dann:
outcome-go-on = Weiter.
outcome-note = Aufschreiben: „{ $note }“
outcome-refer = Aufhören und fragen: { $to }.
outcome-stop = Aufhören. { $text }
outcome-done = Die Arbeit ist fertig.
outcome-to-the-end = Nur noch ausführen, was unter „Zum Schluss“ steht.
outcome-to-the-end-step = Nur noch ausführen, was unter „Zum Schluss“ steht: weiter mit Schritt { $step }.
outcome-as-at = Weiter wie oben bei { $reading } außerhalb der Grenze ({ $instrument }).
outcome-repeat = { $count ->
    [one] Ab Schritt { $step } wiederholen, höchstens einmal.
   *[other] Ab Schritt { $step } wiederholen, höchstens { $count }-mal.
  }
outcome-then-repeat = { $count ->
    [one] Dann ab Schritt { $step } wiederholen, höchstens einmal.
   *[other] Dann ab Schritt { $step } wiederholen, höchstens { $count }-mal.
  }
outcome-failing = Danach immer noch so: { $then }
stands = Die Maschine steht dann so: { $how }.
stands-denied = { $what } (doch die Ablesung spricht dagegen)
stands-normal = Die Maschine steht dann wie gewöhnlich.

## Blöcke
any-order = In beliebiger Reihenfolge:
without-a-break = Ohne Unterbrechung: hier weder weggehen noch übergeben:
together = Zu gleicher Zeit, { $who }:
group-as-one = Zusammen, als eines:
at-the-end = Zum Schluss:
call = { $title }:
call-at = { $title } ({ $point }):
branch-when = Nur bei { $when }:
branch-otherwise = Sonst:
condition-series = Baureihe { $series }
condition-within = { $what } { $limit }
condition-not = nicht { $what }
condition-proved = { $what }, und das ist nachgewiesen
condition-for = { $what }, seit mindestens { $time }
condition-under = { $what }, seit weniger als { $time }
serial-from = Seriennummern ab { $from }
serial-to = Seriennummern bis { $to }
serial-range = Seriennummern { $from } bis { $to }
serial-any = jede Seriennummer
by-all = Alle
do-not-leave = Maschine hier nicht verlassen: so, wie sie dann steht, ist das nicht sicher.
do-not-leave-while = Maschine hier nicht verlassen: { $how }.

## Kopf
revision = Ausgabe { $letter }
revision-of = Ausgabe { $letter }, { $date }
replaces = Ersetzt Ausgabe { $letter }

## Listen
list-people = Personen
list-time = Zeit
instrument-one-limit = nur { $limit }
instrument-asked-in = { $range }; auf diesem Blatt: { $unit }
instrument-asked-in-part = { $range }; auf diesem Blatt: { $unit }, wo der Schritt keine andere Einheit nennt
instrument-instead = oder { $instrument } (statt: { $of })
list-instruments = Messgeräte
list-special-tools = Sonderwerkzeuge
list-tools = Werkzeuge
list-parts = Neue Teile
list-consumables = Verbrauchsstoffe
column-instrument = Messgerät
column-range = Bereich
column-resolution = Teilung
column-error = Größter Fehler
column-calibrated = Kalibriert
column-tool = Werkzeug
column-number = Nummer
column-part = Teil
column-consumable = Stoff
column-quantity = Menge
calibrated-every = { $count ->
    [one] jeden Monat
   *[other] alle { $count } Monate
  }
error-of-reading = vom Messwert
error-of-full-scale = vom Endwert
error-plus = plus
maybe-needed = nur wo ein Schritt es verlangt
people-anyone = Wer gerade frei ist
people-work = { $time } Arbeit
time-elapsed = Von Anfang bis Ende
time-waits = Davon Wartezeit
time-spread = { $likely } ({ $least } bis { $most })
time-untimed = { $count ->
    [one] 1 Schritt ohne Zeitangabe ist nicht gezählt
   *[other] { $count } Schritte ohne Zeitangabe sind nicht gezählt
  }

## Unterschriften, Vorsicht, Beweis
sign-done-by = Ausgeführt von
sign-checked-by = Geprüft von
caution-person = Nur fachkundige Personen, die dazu beauftragt sind, dürfen diese Arbeit ausführen. Arbeit an elektrischen Teilen ist Sache von Elektrofachkräften.
caution-local = Gesetz, örtliche Vorschriften und Regeln des Betriebs gehen vor, dann die Angaben des Herstellers, dann dieses Blatt.
caution-lock = Wo Energie wiederkehren kann: mit eigenem Schloss sichern, den Schlüssel behalten und selbst feststellen, dass keine Energie mehr ansteht.
proved = Auf jedem Weg durch die { $acts } Handlungen dieser Anweisung wurden { $obligations } Pflichten zu Reihenfolge, Zustand und Verriegelung rechnerisch bewiesen.
proved-limits = Der Beweis deckt ab, was die Bibliothek über die Maschine sagt, und sonst nichts. Er ersetzt nicht Hinsehen, Denken und Fragen.

## Signalwörter (ANSI Z535.4, ISO 3864-2)
signal-danger = GEFAHR
signal-warning = WARNUNG
signal-caution = VORSICHT
signal-notice = HINWEIS

## Beschriftungen
label-step = Schritt
label-note = Hinweis
label-page = Seite
label-of = von
label-source = Quelle
label-what-for = Wofür
label-hazards = Gefahren
label-for-machines = Für
label-why-revised = Grund der Änderung
label-what-you-need = Was gebraucht wird
label-done-by = Ausgeführt von
label-name = Name
label-date = Datum
label-signature = Unterschrift
label-machine-serial = Seriennummer der Maschine
label-job-number = Auftragsnummer
label-cautions = Vorsicht
label-proved = Was bewiesen wurde
label-limit = Grenze
label-accept = Annehmen
label-result = Ergebnis
label-done = Erledigt
label-enter = Eingeben
label-wait-over = Die Zeit ist um
label-work-out = Ausrechnen
label-edition = Sprache und Einheiten
label-save-record = Protokoll sichern
label-print = Drucken
label-new-job = Neuer Auftrag
label-new-job-sure = Neuen Auftrag beginnen? Vorher das Protokoll sichern: es wird von diesem Gerät entfernt.
label-saved = Auf diesem Gerät gesichert
label-still-wait = Noch zu warten
label-wait-done = Die Zeit ist um.
label-no-store = Dieser Browser kann kein Protokoll aufbewahren, daher kann hier nicht gearbeitet werden. Bitte das gedruckte Blatt verwenden.
label-other-tab = der Auftrag ist in einem anderen Fenster offen
label-record-broken = Das Protokoll auf diesem Gerät wurde verändert bei Eintrag
label-not-open = Dieser Schritt ist jetzt nicht offen.
label-empty = Bitte etwas aufschreiben.
label-signed-as = Dieser Name steht schon für eine andere Rolle. Jemand anderes muss unterschreiben.
label-missing = Eine Ablesung, aus der gerechnet wird, fehlt.
label-not-a-number = ist keine Zahl.
label-not-in-range = das zeigt das Messgerät nicht an. Noch einmal ablesen.
label-not-on-digits = solche Stellen zeigt das Messgerät nicht an. Noch einmal ablesen.
label-not-expected = das wird hier nicht erwartet. Noch einmal ablesen.
label-undecided-here = Unentschieden: so nah an der Grenze kann der Fehler des Messgeräts den Ausschlag geben. Neu angeben, womit gemessen wird, und ein besseres Messgerät nehmen.
label-undecided = Unentschieden: so nahe an der Grenze kann der Fehler des Messgeräts den Wert gut oder schlecht machen. Mit einem besseren Messgerät noch einmal messen. Die Arbeit wartet.
label-not-for = Diese Anweisung ist nicht für diese Maschine.
label-which-series = Welche Baureihe hat die Maschine?
label-which-serial = Seriennummer der Maschine
label-end-done = Die Arbeit ist fertig.
label-end-stop = Die Arbeit endet hier.
label-end-refer = Die Arbeit endet hier. Fragen:
label-stands = Die Maschine steht so
label-procedure = Anweisung
label-language = Sprache
label-when-done = [Eingabetaste], wenn es erledigt ist
label-when-waited = [Eingabetaste], wenn die Zeit um ist
label-when-result = [Eingabetaste] für das Ergebnis
label-type-values = Eintippen, mit Leerzeichen dazwischen
label-type-text = Aufschreiben
label-type-number = Eine der Nummern eintippen.
label-enter-alone = Die Eingabetaste allein drücken, wenn es erledigt ist, oder stop eintippen.
label-which-next = Was kommt als Nächstes?
label-values-wanted = so viele Zahlen werden gebraucht
label-not-an-answer = Das ist keine der Antworten.
label-job-left = Die Arbeit wurde hier verlassen. Das Protokoll enthält, was bis hierher getan wurde.
label-record-is-in = Das Protokoll steht in

## Uhrzeiten
clock-step-ended = Ende von Schritt { $step } um
clock-since = { $what }, seit
clock-started = Beginn um
clock-not-before = Nicht vor
clock-only-before = Nur vor
timed-by-waits = Ob diese Zeit um ist: das Blatt geht nach der Uhr, dieses Programm nur nach den Wartezeiten. Was dazwischen getan wurde, zählt es nicht mit.
label-goes-on-unbroken = Geht ohne Unterbrechung weiter: hier weder weggehen noch übergeben.
label-no-script = Dieses Prüfprogramm braucht JavaScript. Bitte das gedruckte Blatt verwenden.
label-stands-normal = Die Maschine steht dann wie gewöhnlich.

## Schablonen
label-template = Schablone
template-title = Schablone: { $template }
template-use = { $template } von der Seite hinter diesem Blatt ausschneiden. Zuvor die beiden Linien auf jener Seite nachmessen.
template-print = Diese Seite in Originalgröße (100 %) drucken, nicht an das Papier angepasst.
template-prove = Dann beide Linien mit einem Stahlmaßstab nachmessen: Die waagrechte ist 100 mm lang, die senkrechte 40 mm. Stimmt eine davon nicht, die Seite wegwerfen und neu drucken.
template-cut = Auf der Mitte der gezeichneten Linie schneiden. Keine alten Stücke aufheben: Ein Grenzwert kann seither geändert worden sein.
template-across = 100 mm
template-down = 40 mm
template-rectangle = Umriss: { $width } breit, { $height } hoch
template-disc = Umriss: rund, { $diameter } Durchmesser
template-notch-top = Kerbe oben: Mitte { $at } von links, { $width } breit, { $depth } tief
template-notch-bottom = Kerbe unten: Mitte { $at } von links, { $width } breit, { $depth } tief
template-notch-left = Kerbe links: Mitte { $at } von unten, { $width } breit, { $depth } tief
template-notch-right = Kerbe rechts: Mitte { $at } von unten, { $width } breit, { $depth } tief
template-hole = Loch, { $diameter } Durchmesser
template-holes = { $count } Löcher, je { $diameter } Durchmesser, gleichmäßig auf einem Kreis von { $circle }
template-in-the-middle = , in der Mitte
template-from-the-corner = , Mitte { $right } von links und { $up } von unten
template-from-the-middle = , Mitte { $right } quer und { $up } hoch, von der Mitte aus gezählt (unter null: nach links, nach unten)
template-next-page = Was sonst dazu gesagt ist, steht auf der nächsten Seite: beide beisammen halten.
template-turned = Gedreht, damit es auf das Papier passt: Oben ist rechts.
template-first = , das erste { $angle } im Uhrzeigersinn von oben
template-tied = Aus den Grenzwerten der Bibliothek: { $names }
cut-from = { $name }, aus der Schablone „{ $template }“ hinter diesem Blatt
