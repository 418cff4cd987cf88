"""What stands above a lot's figures in words: its holds, its cautions, and what it is made of."""

from hilum.benches.lots import LotStory
from hilum.benches.wording import month_words


def held_words(story: LotStory) -> str:
    """Say what bars the lot from leaving the house, or nothing."""
    line = story.lot.line
    if line.withdrawn_on is not None:
        return (
            f"Withdrawn on {line.withdrawn_on.isoformat()}: what made this lot was taken back. Its number stays spent. "
            "The tab History brings it back."
        )
    said = "; ".join(
        f"{hold.kind}{f' ({hold.note})' if hold.note else ''}, since {hold.set_on.isoformat()}"
        for hold in story.holds
        if hold.lifted_on is None
    )
    unknown = f"Identity unknown: not to be packed as “{line.variety}”." if line.identity == "unknown" else ""
    held = f"On hold: {said}. Not to be packed or handed out until the hold is lifted." if said else ""
    return " ".join(text for text in (held, unknown) if text)


def caution_words(story: LotStory) -> str:
    """Give what is to be known before seed of the lot is handled or handed out, or nothing."""
    line, reference = story.lot.line, story.lot.reference
    said = []
    if line.treatment:
        said.append(
            f"Treated seed ({line.treatment}): gloves on, not food or feed, and every packet says so."
        )
    if line.is_f1:
        said.append("F1 hybrid: seed saved from it does not come true.")
    if line.rights_notice:
        said.append(f"Rights notice: {line.rights_notice}.")
    if reference is not None and reference.cautions:
        listed = "; ".join(reference.cautions)
        said.append(f"{listed[:1].upper()}{listed[1:]}.")
    if line.treatment or line.rights_notice or (reference is not None and reference.cautions):
        said.append("Rules differ by country: check with your local authority.")
    return " ".join(said)


def family_words(story: LotStory) -> str:
    """Say what the lot was grown from or made of, and what came of it."""
    said, line = [], story.lot.line
    if story.components:
        parts = ", ".join(
            f"{each.share_ppm / 10_000:.1f} % {each.lot} “{each.variety}”" for each in story.components
        )
        by = "by seeds" if story.components[0].share_by == "seeds" else "by weight"
        said.append(f"{'Poured together from' if line.made_as == 'bulked' else 'A mix of'} {parts} ({by}).")
        if line.made_as == "mixed" and line.germination_percent is None:
            oldest = (
                f": {month_words(line.tested_on)}" if line.tested_on else ", and not all of them were tested"
            )
            said.append(f"The oldest test of its components counts{oldest}. A mix has no forecast.")
    elif story.parents:
        said.append(f"Grown from {', '.join(story.parents)}.")
    if story.children:
        said.append(f"Parent of {', '.join(story.children)}.")
    if line.supplier_batch:
        said.append(f"Supplier's batch {line.supplier_batch}.")
    return " ".join(said)
