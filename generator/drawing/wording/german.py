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
    relation="{kind} von {surface} zu {datum}: {how}.",
    item="Pos.",
    quantity="Menge",
    description="Benennung",
    material_or_standard="Werkstoff oder Norm",
    remark="Bemerkung",
    gap="Spalt",
    what="Was",
    nominal="Nennmaß",
    at_worst="Schlimmstenfalls",
    wanted="Gewollt",
    made_to_measure="{what}, nach Maß gefertigt",
    fitted="angepasst",
    span="{low} bis {high}",
    at_least="mindestens {value}",
    at_most="höchstens {value}",
    any="beliebig",
    all_in="Alles in {unit}.",
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
        "= measured stack + 0.03 mm": "= gemessenes Paket + 0,03 mm",
        "= measured stack - 0.3 mm": "= gemessenes Paket - 0,3 mm",
        "= measured outer spacer": "= äußere Distanzhülse, gemessen",
        "= measured gap - 0.05 mm": "= gemessener Spalt - 0,05 mm",
        "= measured cover + snap ring - groove + 0.03 mm": "= Deckel + Ring gemessen - Nut + 0,03 mm",
        "turn all seats at one setting between centres": "alle Sitze in einer Aufspannung zwischen Spitzen drehen",
        "finish the point last, the spindle turning in its own bearings":
            "Spitze zuletzt fertigen, Spindel dabei in den eigenen Lagern laufend",
        "bore at one setting with the finished shank held in the spindle's own taper":
            "in einer Aufspannung ausdrehen, fertiger Schaft im Kegel der Hauptspindel",
        "grind the point with the finished shank in the spindle's own taper":
            "Spitze schleifen, fertiger Schaft im Kegel der Hauptspindel",
        "Point hardened 60-63 HRC, ground last.": "Spitze gehärtet 60-63 HRC, zuletzt geschliffen.",
        "Point case-hardened 0.8 to 1.2 mm deep; thread, seats and collar left soft.":
            "Spitze einsatzgehärtet, Tiefe 0.8 bis 1.2 mm; Gewinde, Sitze und Bund weich.",
        "Body": "Körper",
        "Spindle": "Spindel",
        "Cover": "Deckel",
        "Clamp washer": "Klemmscheibe",
        "Inner spacer": "Innenring-Abstandshülse",
        "Outer spacer": "Außenring-Abstandshülse",
        "Bearing …": "Lager …",
        "Spindle with all that turns": "Spindel mit allem, was sich dreht",
        "Cap screw": "Zylinderschraube",
        "Dead centre": "Feste Spitze",
        "Quill": "Pinole",
        "Work": "Werkstück",
        "Tool holder": "Werkzeughalter",
        "Ejector nose": "Auswerferspitze",
    },
)  # fmt: skip
