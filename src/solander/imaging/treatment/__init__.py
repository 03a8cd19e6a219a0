"""The steps of a treatment as functions on pixels, and what measures that they are needed.

`deep` says what the numbers mean. Found: `border`, `fading`, `yellowing`, `texture`, `marks`, `grain`. Done, one
channel at a time: `tone`, `fading`, `yellowing`; place by place: `texture`, `marks`, `two_lights`, `even_light`,
`detail`; `frame` for what turns and crops, `output` for the size in which a picture goes out; `bands`
enlarges what is smooth. `treat` puts steps together, `preview` does so at screen size.
"""
