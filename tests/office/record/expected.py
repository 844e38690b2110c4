"""What the whole job's record has to say. Conversions worked out by hand.

1 yd³ = 0.764555 m³, 1 in = 25.4 mm, 1 gal = 3.78541 l, 1 mi = 1.609344 km, 1 psi = 0.00689476 MPa.
"""


def phrases(text: str) -> list[str]:
    return [" ".join(part.split()) for part in text.split("|")]


FILE_METRIC = phrases(
    """
    36.1°, -79.95° | 63 m² | 34 m | 115 mm | 7.25 m³ | 0.4 m²K/W | 19 °C | 71 % | 6.2 m | 335 kg/m³ |
    0.46 | 28.3 MPa | 1.12 ± 0.15 | 7.4 m³ in 2 loads | 95 mm | 5 people | 9 mats of 0.6 m² |
    2.5 min a mat | 21 m to cut | 1.1 m a minute | KB-77 | 3.9 m³ | 102 mm | 26 °C | 11 l | 6 bags |
    KB-78 | 3.5 m³ | 98 mm | 28 °C | 1 h 1 min | 58 min | 36 m² | 27 m² | 7 mm | 1.5 m, 2 m | 5.2 kg |
    -13 mm | 121 mm | 118 mm | 1.36 m | 8 m | 32 mm | 6 m | 31 mm | 4.5 m, 0 m to 4.5 m, 8 m |
    14 m, Jul 14, 4:10 pm | 60 m² | 12.5 l over 62 m² (5 m²/l) | 11 l over 62 m² (5.6 m²/l) | 13 km/h |
    58 % | 18 °C, 31 °C | 64 % | 9 km/h | 25 %
    """
)
FILE_US = phrases(
    """
    678 ft² | 111' 6 9/16" | 4.53 in | 9.48 yd³ | 2.3 ft²·°F·h/BTU | 66 °F | 20' 4 1/8" | 565 lb/yd³ |
    4100 psi | 9.68 yd³ in 2 loads | 3.74 in | 5.1 yd³ | 4.02 in | 80 °F | 2.9 gal | 4.58 yd³ | 3.86 in
    | 82 °F | 388 ft² | 291 ft² | 0.28 in | 11.5 lb | -1/2" | 4 3/4" | 26' 2 15/16" | 1 1/4" |
    3.3 gal over 667 ft² (202 ft²/gal) | 8 mph | 64 °F, 88 °F
    """
)
OWNER_US = phrases(
    """
    Señor Núñez's patio | The Aldous family | 14 Lantern Row | 678 ft² | 4.53 in | 9.68 yd³ in 2 loads |
    Patio mix, designed for 4100 psi | adobe | 80 to 82 °F | 3.86 to 4.02 in | 2.9 gal |
    Tuesday, July 14, 2026, 7:06 am to 8:13 am | Tuesday, July 14, 2026, 9:00 am to 10:11 am |
    71 to 73 °F | 68 to 71 % | 6 to 7 mph | kitchen wall | look again: has gaps |
    45' 11 3/16" in all, Jul 14, 4:10 pm | 1 1/4" deep | Walnut release, 11.5 lb |
    July 16, 2026 · low pressure | July 17, 2026 · Brown tint, 646 ft² |
    July 18, 2026 · Clear 25, 3.3 gal | from July 15, 2026 (1 day | from July 24, 2026 (10 days) |
    from July 25, 2026 (7 days after the last coat) | about 2028 to 2029 | common practice |
    label of the sealer | local codes
    """
)
FILE_WORDS = phrases(
    """
    Ana Ibáñez | Jul 14, 7:40 am, Luis Cantero | Jul 14, 7:44 am, Luis Cantero: picked out | still open
    | photo 1 | Jul 14, 8:55 am | (8:35 am – 9:20 am) | inside | began 4 min before, ended 6 min after |
    began 5 min before it opened | Saw, open now | Gate code changed. | Happy owner | twice | no rain |
    lead: Luis Cantero | Test cuts | raveled a little | Plastic sheet tests | No drops | Callbacks |
    Sealer turned white | By the downspout
    """
)
