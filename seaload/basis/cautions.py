"""The cautions and the limits of the model in plain words, said once in every report, page and summary."""

NOT_MODELLED = (
    "breaking waves, floating objects, squalls, a broach beyond its share of time, a helmsman beyond the stated law, "
    "the windward foil's loads outside prescribed motions"
)
CAUTIONS = (
    "A model with stated error bars, not a warrant.",
    "The designer's limits, class rules, local codes, licensed practice and the skipper's judgement rule.",
    f"Not modelled: {NOT_MODELLED}.",
)
