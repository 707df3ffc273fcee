"""Ink on its way to paper and screen: PDF, SVG and the bench plan.

Nothing here knows the CAD library. `content` is what a plan says, `plan` and its helpers how it looks.
"""
