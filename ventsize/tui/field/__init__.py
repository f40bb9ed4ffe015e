"""At the appliance: screens for somebody kneeling beside it with one free hand.

One question at a time, in large figures. Everything is on the number pad and the arrows: digits choose and type, Enter
goes on, + and - say met and not met, the arrows go to and fro. Every key is kept safe from a shut lid as it is typed.
"""
