"""The fixed words of the sheets in German."""

from __future__ import annotations

from generator.drawing.wording.words import Words

__all__ = ["GERMAN"]

GERMAN = Words(
    material="Werkstoff",
    stock="Rohmaß",
    mass="Masse",
    scale="Maßstab",
    general_tolerance="Allgemeintoleranz",
    finish="Oberfläche",
    units="Maße in",
    edges="Kanten",
    created="Erstellt von",
    approved="Genehmigt von",
    date="Ausgabedatum",
    owner="Eigentümer",
    title="Benennung",
    document="Dokumentart",
    number="Nummer",
    revision="Rev.",
    sheet="Blatt",
    do_not_scale="Maße nicht abgreifen",
    check_line="100 mm: mit 100 % drucken",
    made_with="{program}, Auftrag {job}",
    general_arrangement="Gesamtzeichnung",
    part_drawing="Teilzeichnung",
    see_parts_list="siehe Stückliste",
    not_stated="nicht angegeben",
    not_issued="nicht ausgegeben",
    not_approved="nicht genehmigt",
    unless_shown="{value}, wenn nicht anders angegeben",
    edges_value="ISO 13715: außen {outside}, innen {inside}",
    change="Änderung",
    changed_on="Datum",
    by="Name",
    notes="Hinweise",
    unsolved="NICHT FERTIGEN, {count} ungelöst: {what}.",
    unsolved_mark="NICHT FERTIGEN: {count} ungelöst",
    inches_only="Alle Maße in Zoll, umgerechnete Grenzmaße nach innen gerundet; Rauheit in Mikrozoll.",
    mm_govern="Millimeter gelten; Zoll in eckigen Klammern sind nach innen gerundet.",
    inches_govern="Zoll gelten, Rauheit in Mikrozoll; Millimeter in eckigen Klammern sind nach innen gerundet.",
    general_in_inches="{name} in Zoll, nach innen gerundet: {bands}.",
    band="bis {size} ±{deviation}",
    finish_on="{value} an {names}.",
    frame_in_words="{kind} {value} zu {datum}",
    relation_of_face="{kind} {value} zu {datum} an {surface}.",
    face="Fläche {name}",
    at=" an ",
    beside_flats="{name} {figure}, neben den Schlüsselflächen.",
    stub="Zentrierbohrung der Spitze sitzt in einem Zapfen, der vor dem Fertigen der Spitze abgetrennt wird.",
    relation="{kind} von {surface} zu {datum}: {how}.",
    item="Pos.",
    quantity="Menge",
    description="Benennung",
    material_or_standard="Werkstoff oder Norm",
    remark="Bemerkung",
    gap="Spalt",
    what="Was",
    nominal="Nennmaß",
    at_worst="Im Grenzfall",
    wanted="Gefordert",
    made_to_measure="{what}, nach Maß gefertigt",
    fitted="angepasst",
    span="{low} bis {high}",
    at_least="mindestens {value}",
    at_most="höchstens {value}",
    any="beliebig",
    all_in="Alle Werte in {unit}.",
    inches="Zoll",
    gap_left="1 weiterer Spalt steht im Plan.",
    gaps_left="{count} weitere Spalte stehen im Plan.",
    assembly="Montage",
    order_of_assembly="Reihenfolge der Montage",
    isometric_view="Isometrische Ansicht",
    step="{part} {way} {target} {side}{until}.",
    onto="auf",
    into="in",
    against="an",
    from_work_side="von der Werkstückseite",
    from_tailstock_side="von der Reitstockseite",
    with_pliers="mit der Sicherungsringzange",
    as_arrangement_shows="wie in der Gesamtzeichnung",
    until=", bis {contacts}",
    across_flats="SW ",
    to_fit="Maß: {how}",
    through=" durchgehend",
    flat_at="Fläche ",
    from_axis=" von der Achse",
    half_angle="Einstellwinkel",
    kinds={
        "run-out": "Rundlauf",
        "total run-out": "Gesamtrundlauf",
        "coaxiality": "Koaxialität",
        "concentricity": "Konzentrizität",
        "squareness": "Rechtwinkligkeit",
        "perpendicularity": "Rechtwinkligkeit",
        "parallelism": "Parallelität",
    },
    phrases={
        "Not checked here: load, speed and thrust on the bearings, strength and stiffness of the spindle.":
            "Hier nicht geprüft: Last, Drehzahl und Axialkraft der Lager, Festigkeit und Steifigkeit der Spindel.",
        "Load, thrust and speed reckoned from the given duty, no rating. "
        "Not checked: shock, unbalance, heat, the machine.":
            "Last, Axialkraft und Drehzahl aus den gegebenen Betriebsdaten gerechnet, keine Tragzahl. "
            "Nicht geprüft: Stoß, Unwucht, Wärme, die Maschine.",
        "Load, thrust and speed reckoned from a default duty, no rating. "
        "Not checked: shock, unbalance, heat, the machine.":
            "Last, Axialkraft und Drehzahl aus angenommenen Betriebsdaten gerechnet, keine Tragzahl. "
            "Nicht geprüft: Stoß, Unwucht, Wärme, die Maschine.",
        "Load, thrust and speed reckoned in part from the given duty, no rating. "
        "Not checked: shock, unbalance, heat, the machine.":
            "Last, Axialkraft und Drehzahl zum Teil aus den gegebenen Betriebsdaten gerechnet, keine Tragzahl. "
            "Nicht geprüft: Stoß, Unwucht, Wärme, die Maschine.",
        "Load, thrust and speed reckoned in part from a default duty, no rating. "
        "Not checked: shock, unbalance, heat, the machine.":
            "Last, Axialkraft und Drehzahl zum Teil aus angenommenen Betriebsdaten gerechnet, keine Tragzahl. "
            "Nicht geprüft: Stoß, Unwucht, Wärme, die Maschine.",
        "Load, thrust and speed reckoned from a partly given duty, no rating. "
        "Not checked: shock, unbalance, heat, the machine.":
            "Last, Axialkraft und Drehzahl aus teils gegebenen Betriebsdaten gerechnet, keine Tragzahl. "
            "Nicht geprüft: Stoß, Unwucht, Wärme, die Maschine.",
        "Load, thrust and speed reckoned in part from a partly given duty, no rating. "
        "Not checked: shock, unbalance, heat, the machine.":
            "Last, Axialkraft und Drehzahl zum Teil aus teils gegebenen Betriebsdaten gerechnet, keine Tragzahl. "
            "Nicht geprüft: Stoß, Unwucht, Wärme, die Maschine.",
        "By default:": "Angenommen:",
        "= measured stack + # mm": "= gemessenes Paket + # mm",
        "= measured stack - # mm": "= gemessenes Paket - # mm",
        "= measured outer spacer": "= äußere Abstandshülse, gemessen",
        "= measured gap - # mm": "= gemessener Spalt - # mm",
        "= measured cover + snap ring - groove + # mm": "= Deckel + Ring gemessen - Nut + # mm",
        "front face of the inner spacer on the inner ring of bearing # (diameter)":
            "Vorderseite der Innenring-Abstandshülse am Innenring von Lager # (Durchmesser)",
        "screw head turned down: wall round its hexagon": "Schraubenkopf abgedreht: Wand um den Innensechskant",
        "turn all seats at one setting between centres": "alle Sitze in einer Aufspannung zwischen Spitzen drehen",
        "finish the point last, the spindle turning in its own bearings":
            "Spitze zuletzt fertigen, Spindel dabei in den eigenen Lagern laufend",
        "bore in one setting, finished shank in the headstock spindle":
            "in einer Aufspannung ausdrehen, fertiger Schaft im Kegel der Hauptspindel",
        "grind the point with the finished shank in the headstock spindle":
            "Spitze schleifen, fertiger Schaft im Kegel der Hauptspindel",
        "Point hardened as marked, ground last; head and shank left soft.":
            "Spitze gehärtet wie angegeben, zuletzt geschliffen; Kopf und Schaft weich.",
        "Point case-hardened 0.8 to 1.2 mm deep; thread, seats, collar and nose left soft.":
            "Spitze einsatzgehärtet, Tiefe 0.8 bis 1.2 mm; Gewinde, Sitze, Bund und Hals weich.",
        "Point left soft.": "Spitze bleibt weich.",
        "circlip …": "Sicherungsring …",
        "head turned to dia # to # mm": "Kopf auf Durchmesser # bis # mm abgedreht",
        "The thread's mouth countersunk #° to dia # mm for the centre.":
            "Gewindemündung #° gesenkt auf Durchmesser # mm für die Spitze.",
        "Tighten the nut to # N m by a spanner on its flats before the spindle enters the body.":
            "Mutter mit # N m am Schlüssel anziehen, bevor die Spindel in den Körper kommt.",
        "Tighten the screw to # N m on the bench, before the spindle enters the body.":
            "Schraube auf der Werkbank mit # N m anziehen, bevor die Spindel in den Körper kommt.",
        "Hold the spindle by a spanner of # mm on the flats of the nose.":
            "Spindel an den Flächen des Halses mit Schlüssel # mm halten.",
        "Hold the spindle by a tommy bar of # mm in the nose.": "Spindel mit einem Stift von # mm im Hals halten.",
        "Hold the spindle by the nose in soft jaws.": "Spindel am Hals in weichen Backen halten.",
        "Hold the spindle by the collar in soft jaws.": "Spindel am Bund in weichen Backen halten.",
        "Thread-locking compound of medium strength on the dry thread.":
            "Schraubensicherung, mittelfest, auf das trockene Gewinde.",
        "Take the screw out with a # mm hexagon key through the shank, the spindle held alike.":
            "Schraube mit Sechskantschlüssel # mm durch den Schaft lösen, Spindel ebenso gehalten.",
        "Take the screw out with a # mm hexagon key through the shank, the spindle held by its nose.":
            "Schraube mit Sechskantschlüssel # mm durch den Schaft lösen, Spindel am Hals gehalten.",
        "The circlip is sprung on before the spindle enters the body.":
            "Sicherungsring aufspreizen, bevor die Spindel in den Körper kommt.",
        "Stick the cover in with retaining compound of low strength, a thin film on its dry rim: none may reach the "
        "bearing.":
            "Deckel mit schwachfestem Fügekleber einkleben, dünner Film auf dem trockenen Rand: nichts darf ins Lager.",
        "Press the cover in square, by a tube on its rim.": "Deckel gerade einpressen, mit einem Rohr auf dem Rand.",
        "Screw the cover down on the outer ring hand-tight, by a spanner of # mm on the flats of its rim.":
            "Deckel handfest auf den Außenring schrauben, mit Schlüssel # mm an den Flächen seines Randes.",
        "Thread-locking compound of low strength on the cover's dry thread.":
            "Schraubensicherung, schwachfest, auf das trockene Gewinde des Deckels.",
        "Body": "Körper",
        "Spindle": "Spindel",
        "Cover": "Deckel",
        "Clamp washer": "Klemmscheibe",
        "Inner spacer": "Innenring-Abstandshülse",
        "Outer spacer": "Außenring-Abstandshülse",
        "Bearing …": "Lager …",
        "Spindle with all that turns": "Spindel mit allem, was sich dreht",
        "Cap screw": "Zylinderschraube",
        "Dead centre": "Feste Zentrierspitze",
        "Quill": "Pinole",
        "Work": "Werkstück",
        "Tool holder": "Werkzeughalter",
        "Ejector nose": "Auswerferspitze",
        "Circlip": "Sicherungsring",
        "Snap ring": "Sprengring",
        "Shim ring": "Passscheibe",
        "Round nut": "Rundmutter",
        "Half centre": "Halbe Zentrierspitze",
        "Revolving centre": "Mitlaufende Zentrierspitze",
        "finish the point last, the spindle turning in its own rings":
            "Spitze zuletzt fertigen, Spindel dabei in den eigenen Lagern laufend",
        "Shank end countersunk #° to dia # mm.":
            "Schaftende #° gesenkt auf Durchmesser # mm.",
        "Taper: blue in the quill, # % or more.": "Kegel: in der Pinole tuschiert # % oder mehr.",
        "Drawbar: tap drill dia # mm.": "Anzugstange: Kernloch Durchmesser # mm.",
        "Flat runs out at its end in R # or more: from a sharp corner a hardened point breaks.":
            "Fläche läuft an ihrem Ende in R # oder mehr aus: an einer scharfen Ecke bricht eine gehärtete Spitze.",
        "back face clear of the quill face": "hintere Planfläche frei von der Pinole",
        "bearing # floats ahead of its floor": "Lager # frei vor seinem Boden",
        "bearing #: inner and outer stack of equal length": "Lager #: inneres und äußeres Paket gleich lang",
        "bearing #: standing outer ring clear of the turning inner ring ahead":
            "Lager #: stehender Außenring frei vom drehenden Innenring davor",
        "circlip against its groove": "Sicherungsring an seiner Nut",
        "circlip clear of the recess bottom": "Sicherungsring frei vom Grund der Ausdrehung",
        "clamp washer clear of the floor recess (per side)": "Klemmscheibe frei von der Bodenausdrehung (je Seite)",
        "clamp washer clear of the outer ring (per side)": "Klemmscheibe frei vom Außenring (je Seite)",
        "clamp washer clear of the recess bottom": "Klemmscheibe frei vom Grund der Ausdrehung",
        "collar stands beyond the cover": "Bund steht über den Deckel vor",
        "cover clear of the inner ring's face": "Deckel frei von der Stirn des Innenrings",
        "cover clear of the turning inner ring (per side)": "Deckel frei vom drehenden Innenring (je Seite)",
        "cover on the outer ring's face (width)": "Deckel auf der Stirn des Außenrings (Breite)",
        "cover within its recess": "Deckel in seiner Ausdrehung",
        "ejector nose wider than the bore (per side)": "Auswerferspitze breiter als die Bohrung (je Seite)",
        "flats of the cover's rim stand out of the body": "Schlüsselflächen des Deckels stehen aus dem Körper vor",
        "floor of pocket # clear of the turning inner ring # (per side)":
            "Boden der Lagerbohrung # frei vom drehenden Innenring # (je Seite)",
        "floor recess clear of the turning inner ring (per side)":
            "Bodenausdrehung frei vom drehenden Innenring (je Seite)",
        "front outer ring below the cover": "vorderer Außenring unter dem Deckel",
        "front outer ring proud of the ledge": "vorderer Außenring über dem Absatz",
        "full threads of the cover beyond the body's relief":
            "volle Gänge des Deckels hinter dem Freistich des Körpers",
        "full threads of the nut beyond the stud's relief": "volle Gänge der Mutter hinter dem Freistich des Zapfens",
        "key reaches the screw's head": "Schlüssel reicht bis zum Schraubenkopf",
        "nut clear of the floor recess (per side)": "Mutter frei von der Bodenausdrehung (je Seite)",
        "nut clear of the outer ring (per side)": "Mutter frei vom Außenring (je Seite)",
        "pocket floor clear of the turning inner ring (per side)":
            "Boden der Lagerbohrung frei vom drehenden Innenring (je Seite)",
        "pocket floor under the outer ring (width)": "Boden der Lagerbohrung unter dem Außenring (Breite)",
        "relief in the floor of pocket # clear of the turning inner ring":
            "Freistich im Boden der Lagerbohrung # frei vom drehenden Innenring",
        "running gap of the cover to the collar (per side)": "Laufspalt zwischen Deckel und Bund (je Seite)",
        "screw end clear of the end of the thread": "Schraubenende frei vom Gewindegrund",
        "screw engaged in the spindle": "Einschraubtiefe in der Spindel",
        "screw head in the through bore (per side)": "Schraubenkopf in der Durchgangsbohrung (je Seite)",
        "seat # ends short of its last inner ring": "Sitz # endet vor der Stirn seines letzten Innenrings",
        "shank end reached by the ejector": "Schaftende vom Auswerfer erreicht",
        "shim clear of the floor recess (per side)": "Passscheibe frei von der Bodenausdrehung (je Seite)",
        "snap ring within its groove": "Sprengring in seiner Nut",
        "spindle end clear of the recess bottom": "Spindelende frei vom Grund der Ausdrehung",
        "stud beyond the nut": "Zapfen über die Mutter hinaus",
        "tang not split by the bore (wall)": "Lappen nicht von der Bohrung durchbrochen (Wand)",
    },
    contact="{face} an {other} ({part})",
    names={
        "back chamfer end": "Ende der hinteren Fase", "centre hole": "Zentrierbohrung",
        "collar front": "Vorderseite des Bunds", "cone large": "großes Kegelende", "cone small": "kleines Kegelende",
        "cut off": "Abstechseite", "depth": "Schnitttiefe", "drawbar bottom": "Grund der Anzugbohrung",
        "drawbar thread end": "Ende des Anzuggewindes",
        "drill tip": "Spitze der Bohrung",
        "end chamfer end": "Ende der Endfase", "face": "Planfläche", "feed": "Vorschub", "flat": "Abflachung",
        "flat end": "Ende der Abflachung", "flats": "Schlüsselflächen",
        "flats front": "Vorderkante der Schlüsselflächen",
        "front chamfer end": "Ende der vorderen Fase", "gauge": "Prüfebene", "groove front": "Vorderkante der Nut",
        "groove near": "hintere Kante der Nut",
        "head rear": "Rückseite des Kopfs", "held": "Einspannung",
        "hold": "Schlüsselflächen", "hold far": "vordere Kante der Schlüsselflächen",
        "hold near": "hintere Kante der Schlüsselflächen", "hole bottom": "Bohrungsgrund",
        "hole end": "Ende der Bohrung",
        "land": "Führungsfläche", "mouth": "Mündung", "point end": "Ende der Spitze",
        "recess bottom": "Grund der Ausdrehung", "relief bottom": "Grund des Freistichs",
        "relief end": "Ende des Freistichs", "rim start": "Beginn des Rands", "seat # end": "Ende von Sitz #",
        "shank": "Schaft", "slim": "Verlängerung", "slim start": "Beginn der Verlängerung",
        "snap far": "vordere Kante der Nut", "snap near": "hintere Kante der Nut", "socket": "Kegelhülse",
        "spanner flats": "Schlüsselflächen", "speed": "Drehzahl", "step": "Stufe", "tang": "Austreiblappen",
        "tang root": "Ansatz des Lappens", "thread end": "Gewindeende",
        "thread relief end": "Ende des Gewindefreistichs",
        "thrust": "Axialkraft", "work length": "Länge des Werkstücks", "work material": "Werkstoff des Werkstücks",
        "back": "hintere Planfläche", "back chamfer": "hintere Fase", "barrel": "Mantel", "bore": "Bohrung",
        "clip groove": "Nut des Sicherungsrings", "collar": "Bund", "cover recess": "Deckelsitz",
        "drawbar hole": "Bohrung der Anzugstange", "drill point": "Bohrspitze", "end": "Ende",
        "end chamfer": "Fase am Ende", "flange": "Flansch", "floor": "Boden", "floor recess": "Bodenausdrehung",
        "front": "Vorderseite", "front chamfer": "vordere Fase", "head": "Kopf", "inside": "Innenseite",
        "large relief": "großer Freistich", "ledge": "Absatz", "nose": "Nase", "outside": "Außenseite",
        "pocket": "Lagerbohrung", "point": "Spitze", "rear": "Rückseite", "relief": "Freistich", "rim": "Rand",
        "seat": "Sitz", "shoulder": "Schulter", "sleeve": "Hülse", "small relief": "kleiner Freistich",
        "snap groove": "Nut des Sprengrings", "stud": "Zapfen", "stud relief": "Freistich des Zapfens",
        "taper": "Kegel", "tapped hole": "Gewindebohrung", "thread relief": "Gewindefreistich",
        "through bore": "Durchgangsbohrung", "tip": "Spitzenende",
    },
)  # fmt: skip
