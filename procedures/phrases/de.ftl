# Wie diese Bibliothek das Setzen ihrer Zustände sagt.
set-jib-tethered = Ausleger festmachen
set-jib-free = Ausleger losmachen
set-supply-isolated = Trennschalter öffnen
set-supply-live = Trennschalter schließen
set-hook-landed = Hakenflasche absenken, bis das Seil lose ist
set-hook-raised = Hakenflasche heben
set-area-barred = Bereich absperren
set-area-open = Absperrung aufheben
