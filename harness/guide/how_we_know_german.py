# SPDX-License-Identifier: Apache-2.0
"""The page "How we know" in German."""

# Family: what it rests on, what was measured against it, what nobody has checked yet.
KNOWN = {
    "UNIT": (
        "Genaue Definitionen: Yard und Pfund von 1959, Normfallbeschleunigung von 1901, das SI.",
        "Die Faktoren, die NIST SP 811 druckt; das Programm GNU Units.",
        "Nichts ist offen.",
    ),
    "AIR": (
        "Die Dichte feuchter Luft nach CIPM-2007 und die Normatmosphäre der ISO 2533.",
        "Die U.S. Standard Atmosphere und die Tafeln der ASHRAE; Dampftafeln; das npm-Paket psychrolib von 0 bis 60 °C.",
        "Die Dichte feuchter Luft wurde an keinem Wert geprüft, den der Aufsatz selbst druckt. Über 60 °C ist der Dampfdruck extrapoliert.",
    ),
    "DYNO": (
        "Die Formeln der Korrekturnormen; die Änderung der Bewegungsenergie der Rollen.",
        "Bezugszustände, bei denen jeder Faktor 1 ist; Rechenbeispiele zu einem Drehmoment, das einen Körper beschleunigt.",
        "Keine Norm, die gelesen werden konnte, druckt einen gerechneten Korrekturfaktor. Keine wirkliche Messfahrt wurde mit einem "
        "Motorenprüfstand verglichen. Der Verlust von 15 % zwischen Kurbelwelle und Rädern ist branchenüblich und keine Messung.",
    ),
    "PULL": (
        "Die örtlichen Polynome von Savitzky und Golay; die Tests von Student und Welch; ISO 5725-6.",
        "Die gedruckten Koeffizienten; zertifizierte Werte des NIST; das Programm R.",
        "Wie weit wiederholte Messfahrten eines Wagens in der Praxis auseinanderliegen, wurde keiner veröffentlichten Reihe entnommen.",
    ),
    "ENGINE": (
        "Definitionen und die Füllung eines Zylinders mit einem idealen Gas.",
        "Rechenbeispiele aus vier Lehrbüchern.",
        "Der Liefergrad, der für Ihren steht (0,95), und der Wirkungsgrad (0,30) sind Annahmen; nennen Sie die eigenen.",
    ),
    "FUEL": (
        "Atome und Massen; die Dichte von Ethanol nach OIML R 22, von Benzin nach API MPMS 11.1; Oktanzahlen nach Stoffmengenanteilen.",
        "Tafeln von Heywood, Çengel und Boles, dem Energieministerium der Vereinigten Staaten, EN 228; Abgas, vorwärts aus einer Elementbilanz "
        "gemacht.",
        "Gemessene Oktanzahlen wirklicher Mischungen wurden in keiner Reihe verglichen; der Kraftstoff Ihrer Zapfsäule ist nicht das "
        "Referenzbenzin.",
    ),
    "INJECTOR": (
        "Bernoulli: Durchfluss mit der Wurzel aus Druck und Dichte.",
        "Eine Tafel der Ausflussmengen von Düsen.",
        "Wirkliche Einspritzventile gegen ihre Datenblätter bei mehreren Drücken; Totzeit über der Spannung.",
    ),
    "PUMP": (
        "Hubvolumen mal Drehzahl mal Füllung; eine Kraftstoffpumpe nach der Kurve ihres Datenblatts.",
        "Rechenbeispiele zu Kolbenpumpen.",
        "Die Füllung von Hochdruckpumpen bei hoher Drehzahl (0,9 ist branchenüblich).",
    ),
    "COMPRESSOR": (
        "Isentrope Verdichtung von Luft mit fester Wärmekapazität.",
        "Rechenbeispiele; die Python-Bibliothek fluids.",
        "Das Lesen eines Kennfelds: mit keiner zweiten Ablesung eines veröffentlichten verglichen.",
    ),
    "CHARGE": (
        "Die Definition des Rückkühlgrads.",
        "Rechenbeispiele aus drei Lehrbüchern.",
        "Wie der Rückkühlgrad mit dem Durchsatz und mit aufgeheiztem Kühler fällt; nennen Sie den gemessenen.",
    ),
    "TURBINE": (
        "Eine oder zwei Düsen hintereinander und eine Wirkungsgradparabel über der Schaufelgeschwindigkeit.",
        "Rechenbeispiele, nur auf 2,5 %: ihr Gas ist ein anderes. Teile davon gegen getrennt geschriebene Programme.",
        "Kein veröffentlichtes Turbinenkennfeld mit seinem Motor wurde nachgerechnet. Die Pulsamplitude ist eine Eingabe, die wenige messen können.",
    ),
    "PIPE": (
        "Kontinuität, die Schallgeschwindigkeit, Darcy und Weisbach mit Colebrook.",
        "Tafel I des NACA-Berichts 1135; ein Rechenbeispiel; veröffentlichte Reibungszahlen.",
        "Verlustbeiwerte wirklicher Bögen, Filter und Verbindungen.",
    ),
    "CYCLE": (
        "Zwei Zonen mit den NASA-Polynomen von GRI-Mech 3.0, Wärmeübergang nach Woschni, Brennverlauf nach Wiebe, Reibung nach Chen und Flynn.",
        "Gedruckte Bereiche von Motoren (Heywood); ein zweiter, getrennt geschriebener Kreisprozess; das Drehmoment von sieben Serienmotoren bei "
        "ihrem Ladedruck, nichts angepasst: das 0,88- bis 1,14-fache der Nennangabe, Median 1,03.",
        "Wärmeabgabe des Abgases, Wandwärmefaktor und Verdampfung im Saugrohr sind Annahmen. Eine Brenndauer wurde mit keinem veröffentlichten "
        "Druckverlauf verglichen.",
    ),
    "KNOCK": (
        "Der Zündverzug von Douaud und Eyzat im Integral von Livengood und Wu.",
        "Veröffentlichte Empfindlichkeiten des Oktanbedarfs gegen Zündzeitpunkt, Luft- und Kühlmitteltemperatur, Druck und Verdichtung.",
        "Die Höhe. Ohne Kalibrierung erlaubte es einem Forschungsmotor mit Verdichtung 11,85 auf Benzin mit 87 AKI 17 bar, wo 10 gemessen wurden, "
        "und gab 30 % Ethanol einen Gewinn von 1,3, wo es 2 waren. Kalibrieren Sie mit dem Zündzeitpunkt einer Messfahrt. Vorentflammung bei "
        "niedriger Drehzahl liegt außerhalb.",
    ),
    "ROAD": (
        "Das Newtonsche Gesetz entlang der Straße, mit Luft- und Rollwiderstand, drehenden Massen, Haftung und Schaltvorgängen.",
        "400 Fahrversuche mit Wagen von 1970 bis 1982, ein Wagen für alle: Median von gerechnet zu gemessen 0,99, acht von zehn zwischen 0,86 und "
        "1,15, Rangkorrelation 0,80. Geschlossene Lösungen; ein Aufsatz über Zeiten in zwei Höhen; Rechenbeispiele zur Leistung.",
        "Heutige Wagen mit Automatik, Startprogramm und Allradantrieb wurden mit keiner veröffentlichten Sammlung verglichen.",
    ),
    "TYRE": (
        "Die Konstruktionsmaße der ETRTO und ein Abrollumfang von 3,05 Durchmessern.",
        "Abrollumfänge der ETRTO, aus dem Gedächtnis, auf 1 %.",
        "Wachstum bei hoher Geschwindigkeit und Verschleiß.",
    ),
    "BUILD": (
        "Alle Familien davor, verbunden: das schwächste Teil oder das Klopfen bestimmt die Leistung.",
        "Die Grenze bei einer Drehzahl und das Zusammenspiel von Turbine und Motor gegen getrennt geschriebene Programme. Neun Fälle von außen, auf die "
        "nichts kalibriert war: das gedruckte Band hielt das Drehmoment von sieben Serienmotoren bei ihrem Ladedruck und eine der beiden Klopfgrenzen "
        "eines Forschungsmotors; der Test druckt die Zahl.",
        "Kein Wagen eines Kunden wurde damit geplant und dann öffentlich nachgemessen. Ein nicht genannter Spitzendruck und die späteste Verbrennung mit "
        "anderem Kraftstoff sind die gewagtesten Annahmen.",
    ),
    "CHECK": (
        "Das gewogene Mittel, χ² und das Verhältnis von Birge.",
        "Das Programm R; ein Rechenbeispiel von Taylor.",
        "Die Unsicherheiten, die die Zeugen ohne Angabe bekommen, sind branchenüblich.",
    ),
    "FUNCTION": (
        "Das Fortpflanzungsgesetz der JCGM 100; eine einschließende Nullstellensuche.",
        "Rechenbeispiele zu einem Bremsprüfstand (Doebelin und Manik).",
        "Korrelierte Eingaben liegen außerhalb.",
    ),
}

WORDS = {
    "title": "Woher wir das wissen",
    "file": "how-we-know-de",
    "other": "how-we-know",
    "other_title": "English",
    "opening": "Worauf jede Familie beruht, woran sie gemessen wurde und was noch niemand geprüft hat.",
    "kinds": [
        "**Gedruckt**: jemand anderes hat den Wert gedruckt, in einer Norm, einem Handbuch, einem Lehrbuch oder einem Bericht; er wird auf die "
        "gedruckten Stellen getroffen oder mit einer weiteren Toleranz, deren Grund dabeisteht.",
        "**Unabhängig**: ein anderes Programm oder eine andere Formel hat ihn ergeben; es wird genannt, und wie es lief.",
        "**Identität**: es muss so sein, nach Definition, oder die angegebene Formel wurde noch einmal ausgewertet. Das schützt vor einem Versehen,"
        " nicht vor einer falschen Formel, und zählt nicht als Beleg.",
    ],
    "count": "``pullsheet verify`` berechnet jeden Wert, druckt Quelle und Abweichung und scheitert, wenn es weniger als eine genannte Zahl sind. In "
        "dieser Fassung:",
    "family": "Familie",
    "printed": "gedruckt",
    "independent": "unabhängig",
    "identity": "Identitäten",
    "rests": "beruht auf",
    "measured": "gemessen an",
    "open": "noch nicht geprüft",
    "values": "Jeder gedruckte Wert",
    "values_text": "Mit seiner Quelle und der Abschrift, in der er gelesen wurde. „Aus dem Gedächtnis“ heißt, dass die Quelle nicht vorlag.",
    "function": "Funktion",
    "value": "gedruckt",
    "computed": "berechnet",
    "source": "Quelle",
    "read": "wo gelesen",
    "memory": "aus dem Gedächtnis",
}
