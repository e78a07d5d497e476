"""A library of any size, and the same procedures as XML.

    generate(folder, count): folder/library holds the Locknut library, folder/xml the XML files and their schema.

Each procedure has the shape of the demo library's slewing-brake gap, about 114 lines, with names and figures of its
own. Deterministic.
"""

import pathlib
import shutil
from xml.sax.saxutils import quoteattr

ROOT = pathlib.Path(__file__).parents[2]
LOOKS = ["hose", "cable", "bracket", "spring", "sleeve", "clamp", "label", "seal"]


def generate(folder, count):
    library, xml = folder / "library", folder / "xml"
    (library / "models").mkdir(parents=True)
    xml.mkdir(parents=True)
    for name in ("library.yaml", "models/slewing-drive.lkn", "calliper-alignment.lkn"):
        shutil.copy(ROOT / "procedures" / name, library / name)
    shutil.copytree(ROOT / "procedures" / "instruments", library / "instruments")
    shutil.copytree(ROOT / "procedures" / "phrases", library / "phrases")
    text = (library / "library.yaml").read_text(encoding="utf-8").replace("also-in: [de]\n", "")
    (library / "library.yaml").write_text(text.replace("second-units: us\n", ""), encoding="utf-8")
    # Used once each, so that nothing in the shared files is unused.
    for name in ("slew-gearbox-oil", "slewing-ring-bolts", "slew-lining-disc"):
        shutil.copy(ROOT / "procedures" / f"{name}.lkn", library / f"{name}.lkn")
    trim_instruments(library)
    shutil.copy(pathlib.Path(__file__).parent / "procedure.xsd", xml / "procedure.xsd")
    for number in range(count):
        (library / f"gap-{number:05}.lkn").write_text(lkn(number), encoding="utf-8")
        (xml / f"gap-{number:05}.xml").write_text(xml_of(number), encoding="utf-8")
    return library, xml


def trim_instruments(library):
    """Takes out what only the hoist uses."""
    path = library / "instruments" / "instruments.lkn"
    lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
    unused = ("instrument dial-calliper", "instrument rope-gauge", "instrument steel-rule", "instrument small-torque-wrench")
    path.write_text("".join(line for line in lines if not line.startswith(unused)), encoding="utf-8")


def figures(number):
    return {"name": f"gap-{number:05}", "limit": f"0.{10 + number % 9:02}", "low": f"0.{35 + number % 5}", "day": 1 + number % 28}


def looks(number):
    return [(look, LOOKS[(number + at) % len(LOOKS)]) for at, look in enumerate(LOOKS)]


def lkn(number):
    f = figures(number)
    checks = "".join(
        f"""    step look-{look} "Look at the {other} beside the {look}." takes 1 min {{
      observe {look}-state "Is the {other} whole?" {{
        yes -> go on
        no  -> go on noting "Renew the {other} at the next service."
      }}
    }}
"""
        for look, other in looks(number)
    )
    return f"""/// A wrong gap lets the brake drag or slip. Generated procedure {number}.
procedure {f['name']} on hc40-slewing-drive {{
  title    "Slewing brake {number}: set the air gap"
  revision D of 2026-10-{f['day']:02}
  replaces C because "The three readings were averaged and never compared."
  for      series B or C
  for      serial from {2000 + number}
  crew     fitter, mate

  section "Make safe" {{
    step tether "Tether the jib to the bollard." by all, takes 10 min {{ set jib to tethered }}
    step lock-off "Open the isolator. Lock it. Keep the key." takes 5 min {{
      set supply to isolated
      lock isolator-lock
    }}
    wait discharge-time since lock-off
    step prove-dead "Prove the supply dead at the three terminals." takes 5 min {{
      measure residual at L1, L2, L3 using volt-tester, proves supply is isolated {{
        accept dead
        otherwise stop "Close the panel. Call the site electrician."
      }}
    }}
  }}

  section "Look around" {{
{checks}  }}

  section "Measure and shim" {{
    step open "Take off the brake cover and the old shims." takes 10 min {{
      remove cover-bolts
      remove brake-cover
      remove shim-pack
    }}
    step gap "Measure the air gap at the three marked points." takes 5 min {{
      measure gap at top, left, right using feeler-gauge, expect {f['low']} .. 1.60 mm
      check spread = max(gap) - min(gap) {{
        accept at most {f['limit']} mm, per "Drawing TS-114 issue 6"
        otherwise do calliper-alignment then repeat gap up to 2 times, failing that refer to "Technical support"
      }}
    }}
    step shim "Fit the shim." takes 5 min {{
      choose shim from shim-kit
        so that left-over is 0.10 .. 0.45 mm, where left-over = mean(gap) - shim, prefer largest
      fit shim-pack with shim
    }}
  }}

  section "Close up" {{
    step "Refit the cover." takes 10 min {{
      fit brake-cover
      fit cover-bolts
      tighten cover-bolts using torque-wrench
    }}
    step "Take off the lock. Close the isolator." takes 5 min {{
      unlock isolator-lock
      set supply to live
    }}
    step "Free the jib." by all, takes 5 min {{ set jib to free }}
  }}

  at the end observe noise "Does the jib slew and stop without noise?" {{
    yes -> done
    no  -> refer to "Technical support"
  }}
}}
"""


def xml_of(number):
    f = figures(number)
    checks = "".join(
        f"""    <step name="look-{look}" takes="1 min"><text>Look at the {other} beside the {look}.</text>
      <observe name="{look}-state"><question>Is the {other} whole?</question>
        <arm answer="yes"><go-on/></arm>
        <arm answer="no"><go-on noting={quoteattr(f'Renew the {other} at the next service.')}/></arm>
      </observe>
    </step>
"""
        for look, other in looks(number)
    )
    return f"""<?xml version="1.0" encoding="UTF-8"?>
<procedure name="{f['name']}" on="hc40-slewing-drive" revision="D" date="2026-10-{f['day']:02}">
  <!-- A wrong gap lets the brake drag or slip. Generated procedure {number}. -->
  <title>Slewing brake {number}: set the air gap</title>
  <replaces revision="C">The three readings were averaged and never compared.</replaces>
  <for series="B C"/>
  <for serial-from="{2000 + number}"/>
  <crew>fitter mate</crew>
  <section title="Make safe">
    <step name="tether" by="all" takes="10 min"><text>Tether the jib to the bollard.</text>
      <set state="jib" to="tethered"/>
    </step>
    <step name="lock-off" takes="5 min"><text>Open the isolator. Lock it. Keep the key.</text>
      <set state="supply" to="isolated"/>
      <act verb="lock" thing="isolator-lock"/>
    </step>
    <wait duration="10 min" since="lock-off"/>
    <step name="prove-dead" takes="5 min"><text>Prove the supply dead at the three terminals.</text>
      <measure name="residual" points="L1 L2 L3" using="volt-tester" proves="supply isolated">
        <accept at-most="50 V"/>
        <otherwise><stop>Close the panel. Call the site electrician.</stop></otherwise>
      </measure>
    </step>
  </section>
  <section title="Look around">
{checks}  </section>
  <section title="Measure and shim">
    <step name="open" takes="10 min"><text>Take off the brake cover and the old shims.</text>
      <act verb="remove" thing="cover-bolts"/>
      <act verb="remove" thing="brake-cover"/>
      <act verb="remove" thing="shim-pack"/>
    </step>
    <step name="gap" takes="5 min"><text>Measure the air gap at the three marked points.</text>
      <measure name="gap" points="top left right" using="feeler-gauge" expect-from="{f['low']} mm" expect-to="1.60 mm"/>
      <check name="spread"><minus><fold of="gap" by="max"/><fold of="gap" by="min"/></minus>
        <accept at-most="{f['limit']} mm" per="Drawing TS-114 issue 6"/>
        <otherwise><do subtask="calliper-alignment"/><repeat step="gap" times="2"><refer>Technical support</refer></repeat></otherwise>
      </check>
    </step>
    <step name="shim" takes="5 min"><text>Fit the shim.</text>
      <choose name="shim" from="shim-kit" target="left-over" at-least="0.10 mm" at-most="0.45 mm" prefer="largest"><minus><fold of="gap" by="mean"/><name of="shim"/></minus></choose>
      <act verb="fit" thing="shim-pack" with="shim"/>
    </step>
  </section>
  <section title="Close up">
    <step takes="10 min"><text>Refit the cover.</text>
      <act verb="fit" thing="brake-cover"/>
      <act verb="fit" thing="cover-bolts"/>
      <act verb="tighten" thing="cover-bolts" using="torque-wrench"/>
    </step>
    <step takes="5 min"><text>Take off the lock. Close the isolator.</text>
      <act verb="unlock" thing="isolator-lock"/>
      <set state="supply" to="live"/>
    </step>
    <step by="all" takes="5 min"><text>Free the jib.</text>
      <set state="jib" to="free"/>
    </step>
  </section>
  <at-the-end>
    <observe name="noise"><question>Does the jib slew and stop without noise?</question>
      <arm answer="yes"><done/></arm>
      <arm answer="no"><refer>Technical support</refer></arm>
    </observe>
  </at-the-end>
</procedure>
"""
